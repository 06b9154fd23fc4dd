# Files of at most 400 lines and functions of at most 60, over src/ and tests/; exceptions by name, with why.
import subprocess, sys

FILE_CAP, FUNCTION_CAP = 400, 60
EXCEPT = {}
files = subprocess.run(['git', '-C', sys.argv[1], 'ls-files', 'src/*.c', 'src/*.h', 'tests/*.c', 'tests/*.h'],
                       capture_output=True, text=True).stdout.split()
bad = []
for name in files:
    n = sum(1 for _ in open(f'{sys.argv[1]}/{name}', encoding='utf-8'))
    if n > FILE_CAP and name not in EXCEPT:
        bad.append(f'{name}: {n} lines')
sources = [f for f in files if f.endswith('.c') and f.startswith('src/')]
tags = subprocess.run(['ctags', '--fields=+ne', '--kinds-C=f', '-x', '--_xformat=%N\t%n\t%e\t%F'] + sources,
                      capture_output=True, text=True, cwd=sys.argv[1]).stdout
for row in tags.splitlines():
    name, start, end, path = row.split('\t')
    lines = int(end) - int(start) + 1
    if lines > FUNCTION_CAP and f'{path}:{name}' not in EXCEPT:
        bad.append(f'{path}: {name} has {lines} lines')
print('\n'.join(bad))
sys.exit(bool(bad) or not files)
