# SPDX-License-Identifier: GPL-3.0-or-later
# The files that the tests of some suites need built, for ninja. Usage: test_targets.py BUILD SUITE...
import json, os, subprocess, sys

build, suites = sys.argv[1], set(sys.argv[2:])
def introspect(what):
    return json.loads(subprocess.run(['meson', 'introspect', build, what], capture_output=True, text=True, check=True).stdout)

outputs = {t['id']: t['filename'] for t in introspect('--targets')}
need = set()
for test in introspect('--tests'):
    if suites & {s.split(':')[-1] for s in test['suite']}:
        for target in test['depends']:
            need.update(outputs.get(target, []))
top = os.path.realpath(build)
print(*sorted(os.path.relpath(os.path.realpath(n), top) for n in need))
sys.exit(not need)
