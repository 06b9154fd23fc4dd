# SPDX-License-Identifier: GPL-3.0-or-later
# clang-tidy over every source file of src/, from the build's compile commands, the longest files first.
# Usage: run_tidy.py BUILD JOBS [FILE...]
import json, os, subprocess, sys
from concurrent.futures import ThreadPoolExecutor

build, jobs, only = sys.argv[1], int(sys.argv[2]), set(sys.argv[3:])
# The analyzer's search of one function ends after this many states: a quarter of its default, which
# takes a third of the time over the whole tree.
BOUND = ['-Xclang', '-analyzer-config', '-Xclang', 'max-nodes=50000']
# The analyzer knows nothing of g_autofree's clean-up and reports each as a leak; LeakSanitizer looks there.
WITH_GLIB = ('src/desk/', 'src/report/', 'src/command/', 'src/app/')
with open(f'{build}/compile_commands.json', encoding='utf-8') as commands:
    paths = {os.path.relpath(os.path.join(build, e['file'])) for e in json.load(commands)}
files = sorted((p for p in paths if p.startswith('src/') and p.endswith('.c') and (not only or p in only)),
               key=os.path.getsize, reverse=True)


def tidy(name):
    checks = ['--checks=-clang-analyzer-unix.Malloc'] if name.startswith(WITH_GLIB) else []
    run = subprocess.run(['clang-tidy', '-p', build, '--quiet', '--extra-arg=-Wno-unknown-warning-option']
                         + [f'--extra-arg={a}' for a in BOUND] + checks + [name], capture_output=True, text=True)
    if run.returncode:
        print(run.stdout or run.stderr, flush=True)
    return run.returncode


with ThreadPoolExecutor(jobs) as pool:
    bad = sum(1 for code in pool.map(tidy, files) if code)
print(f'{len(files)} files, {bad} with findings')
sys.exit(not files or bad > 0)
