# SPDX-License-Identifier: GPL-3.0-or-later
# Counts what really ran from a meson testlog.json: each Check program's own tests, other programs as one.
# Usage: count_results.py FIRST.json [AGAIN.json]; what ran again counts as it ended then.
#        count_results.py --journeys FIRST.json: the window journeys that failed, if they are three at most.
# Prints "PASSED FAILED SKIPPED". A skipped program counts as neither passed nor failed; a program that
# ended badly counts as at least one failure, and so do a Check program without tests and an empty log.
import json, re, sys

def read(path):
    try:
        tests = [json.loads(line) for line in open(path, encoding='utf-8').read().splitlines()]
    except OSError:
        tests = []
    return {test['name']: test for test in tests}

if sys.argv[1] == '--journeys':
    bad = [name.split(' / ')[1] for name, test in read(sys.argv[2]).items()
           if 'journey-' in name and test['result'] not in ('OK', 'EXPECTEDFAIL', 'SKIP')]
    print(' '.join(bad) if len(bad) <= 3 else '')
    sys.exit()

passed = failed = skipped = seen = 0
tests = {}
for path in sys.argv[1:]:
    tests.update(read(path))
for test in tests.values():
    seen += 1
    if test['result'] == 'SKIP':
        skipped += 1
        continue
    ok = test['result'] in ('OK', 'EXPECTEDFAIL')
    out = (test.get('stdout') or '') + (test.get('stderr') or '')
    sums = re.findall(r'Checks: (\d+), Failures: (\d+), Errors: (\d+)', out)
    ran = sum(int(n) for n, _, _ in sums) if sums else 1
    bad = sum(int(f) + int(e) for _, f, e in sums)
    if not ok or ran == 0:
        bad = max(bad, 1)
    passed += max(ran - bad, 0)
    failed += bad
print(passed, failed if seen else 1, skipped)
