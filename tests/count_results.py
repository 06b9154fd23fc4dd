# Counts what really ran from a meson testlog.json: each Check program's own tests, other programs as one.
# Prints "PASSED FAILED". A skipped program counts as neither; an empty log counts as one failure.
import json, re, sys

passed = failed = seen = 0
try:
    lines = open(sys.argv[1], encoding='utf-8').read().splitlines()
except OSError:
    lines = []
for line in lines:
    test = json.loads(line)
    out = (test.get('stdout') or '') + (test.get('stderr') or '')
    sums = re.findall(r'Checks: (\d+), Failures: (\d+), Errors: (\d+)', out)
    result = test['result']
    seen += 1
    if result == 'SKIP':
        continue
    ok = result in ('OK', 'EXPECTEDFAIL')
    p = sum(int(a) - int(b) - int(c) for a, b, c in sums)
    f = sum(int(b) + int(c) for _, b, c in sums)
    if not sums:
        p, f = (1, 0) if ok else (0, 1)
    elif not ok and f == 0:
        f = 1
    passed += p
    failed += f
print(passed, failed if seen else failed + 1)
