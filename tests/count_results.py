# SPDX-License-Identifier: GPL-3.0-or-later
# Counts what really ran from a meson testlog.json: each Check program's own tests, other programs as one.
# Prints "PASSED FAILED SKIPPED". A skipped program counts as neither passed nor failed; a program that
# ended badly counts as at least one failure, and so do a Check program without tests and an empty log.
import json, re, sys

passed = failed = skipped = seen = 0
try:
    lines = open(sys.argv[1], encoding='utf-8').read().splitlines()
except OSError:
    lines = []
for line in lines:
    test = json.loads(line)
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
