# clang-tidy over every source file of src/, from the build's compile commands. Usage: run_tidy.py BUILD JOBS
import json, subprocess, sys
from concurrent.futures import ThreadPoolExecutor

build, jobs = sys.argv[1], int(sys.argv[2])
files = sorted({e['file'] for e in json.load(open(f'{build}/compile_commands.json')) if '/src/' in e['file'] or e['file'].startswith('../src/')})
import os
files = sorted({os.path.normpath(os.path.join(build, f)) for f in files if f.endswith('.c')})

def tidy(name):
    run = subprocess.run(['clang-tidy', '-p', build, '--quiet', '--extra-arg=-Wno-unknown-warning-option', name], capture_output=True, text=True)
    return run.returncode, run.stdout

with ThreadPoolExecutor(jobs) as pool:
    results = list(pool.map(tidy, files))
for code, out in results:
    if code:
        print(out)
print(f'{len(files)} files, {sum(1 for c, _ in results if c)} with findings')
sys.exit(not files or any(c for c, _ in results))
