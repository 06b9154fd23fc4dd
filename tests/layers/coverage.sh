#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Lines and branches that the tests reach, a row per layer of src/: coverage.sh [BUILD_FOLDER]. Needs gcovr, and
# for the window (suites app, journey in LZ_COVERAGE) a display: dbus-run-session -- xvfb-run -a.
# Random histories are fewer than in CI, since gcov slows them down.
set -euo pipefail
cd "$(dirname "$0")/../.."
build=${1:-build-coverage}
layers="${LZ_COVERAGE:-engine store draw desk report command}" # suites
[ -f "$build/build.ninja" ] || meson setup "$build" --buildtype=debug -Db_coverage=true >/dev/null
# shellcheck disable=SC2046,SC2086
nice ninja -C "$build" programs $(python3 tests/layers/test_targets.py "$build" $layers) >"$build/coverage-build.log"
export LZ_HISTORIES=${LZ_HISTORIES:-3000}
suites=$(for layer in $layers; do printf -- '--suite %s ' "$layer"; done)
find "$build" -name '*.gcda' -delete
# shellcheck disable=SC2086
nice meson test -C "$build" --no-rebuild $suites --timeout-multiplier 6 >"$build/coverage-test.log" || tail -12 "$build/coverage-test.log"
gcovr -r . "$build" -f 'src/' --gcov-ignore-parse-errors --csv -o "$build/coverage.csv" >/dev/null
python3 - "$build/coverage.csv" <<'PY'
import collections, csv, sys
sums = collections.defaultdict(lambda: [0, 0, 0, 0])
for row in csv.DictReader(open(sys.argv[1])):
    for i, column in enumerate(('line_covered', 'line_total', 'branch_covered', 'branch_total')):
        sums[row['filename'].split('/')[1]][i] += int(row[column])
print('| layer | lines reached | branches reached |\n|---|---|---|')
for layer, (l, lines, b, branches) in sorted(sums.items()):
    if l:
        print(f'| `src/{layer}` | {l:,} of {lines:,}, {100 * l / lines:.1f} % | {b:,} of {branches:,}, {100 * b / max(branches, 1):.1f} % |')
PY
