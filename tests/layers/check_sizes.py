# SPDX-License-Identifier: GPL-3.0-or-later
# Files of at most 400 lines and functions of at most 60, over src/ and tests/; exceptions by name, with why.
import os, subprocess, sys

from tree import files

FILE_CAP, FUNCTION_CAP = 400, 60
EXCEPT = {}  # 'path' or 'path:function': why
root = sys.argv[1]
bad, sources, functions = [], files(root, 'src/*.[ch]', 'tests/*.[ch]'), 0
for name in sources:
    n = sum(1 for _ in open(os.path.join(root, name), encoding='utf-8'))
    if n > FILE_CAP and name not in EXCEPT:
        bad.append(f'{name}: {n} lines')
tags = subprocess.run(['ctags', '--fields=+ne', '--kinds-C=f', '-x', '--_xformat=%N\t%n\t%e\t%F']
                      + [s for s in sources if s.endswith('.c') and s.startswith('src/')],
                      capture_output=True, text=True, cwd=root, check=True).stdout
for row in tags.splitlines():
    name, start, end, path = row.split('\t')
    functions += 1
    lines = int(end) - int(start) + 1
    if lines > FUNCTION_CAP and f'{path}:{name}' not in EXCEPT:
        bad.append(f'{path}: {name} has {lines} lines')
print(*bad, f'{len(sources)} files, {functions} functions', sep='\n')
sys.exit(bool(bad) or not functions)
