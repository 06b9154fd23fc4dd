#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds the fuzz target with clang, ASan and UBSan and runs it for a bounded time: run_fuzz.sh [SECONDS].
# A failing input is left in tests/data/fuzz, and every input there is replayed first.
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
seconds=${1:-20}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$root"
mkdir -p tests/data/fuzz
with_plan=
if grep -qs '^lzq_plan_make(' src/engine/*.c; then with_plan=-DLZT_WITH_PLAN; fi
clang -std=gnu17 -g -O1 -fsanitize=fuzzer,address,undefined -fno-sanitize-recover=undefined \
  -ffp-contract=off $with_plan -Isrc/engine -Itests/engine -Itests/lib \
  tests/fuzz/fuzz_snapshot.c src/engine/*.c tests/engine/random_*.c tests/engine/history_file.c \
  tests/lib/prng.c -lm -o "$work/fuzz_snapshot"
kept=$(find tests/data/fuzz -type f ! -name README)
if [ -n "$kept" ]; then "$work/fuzz_snapshot" $kept; fi
mkdir "$work/corpus"
# Inputs to begin with: a few seeds, alone and with something overwritten.
for i in $(seq 1 40); do
  head -c $((8 + 8 * (i % 6))) <(printf 'seed%04d' "$i"; yes "rec$i" | head -c 64) >"$work/corpus/$i"
done
"$work/fuzz_snapshot" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=1024 -max_len=400 -len_control=0 \
  -seed=1 -print_final_stats=1 -artifact_prefix=tests/data/fuzz/ "$work/corpus" 2>"$work/log" ||
  { tail -60 "$work/log"; exit 1; }
grep -E 'number_of_executed_units|peak_rss|slowest' "$work/log" || tail -5 "$work/log"
printf 'fuzzed malformed snapshots for %s s\n' "$seconds"
