#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs the fuzz targets under AddressSanitizer and UndefinedBehaviorSanitizer, each for a bounded time, as many at
# once as there are processors, and prints a row for each: run_fuzz.sh [SECONDS [TARGET...]]. For a soak, 3600.
# Inputs to begin with are in tests/fuzz/corpus/TARGET; one that fails is left there, and is then tried first.
# LZ_FUZZ_BUILD is a build folder made with clang as below; LZ_FUZZ_KEEP=1 adds what was found to the corpus.
set -euo pipefail
cd "$(dirname "$0")/../.."
root=$PWD
seconds=${1:-20}
shift || true
build=${LZ_FUZZ_BUILD:-build-fuzz}
[ $# -gt 0 ] || set -- snapshot text protocol table station ledger call
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
[ -f "$build/build.ninja" ] || CC=${CC:-clang} meson setup "$build" -Dbuildtype=debugoptimized -Doptimization=1 -Db_lundef=false \
  -Db_sanitize=address,undefined -Dc_args=-fsanitize=fuzzer-no-link >"$work/setup" || { cat "$work/setup"; exit 1; }
# shellcheck disable=SC2046
ninja -C "$build" $(printf 'tests/fuzz/fuzz-%s ' "$@") >"$work/build" || { tail -40 "$work/build"; exit 1; }
build=$(cd "$build" && pwd)

# What leaks is not ours to mend in cairo's and fontconfig's caches; truth that UBSan finds ends the run.
export ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
export LSAN_OPTIONS="suppressions=$root/tests/lsan.supp:print_suppressions=0"
export LAZARET_DATA_DIR="$root/data" LC_ALL=C.UTF-8 G_DEBUG=fatal-criticals

# one TARGET: its row; the log's end and status 1 if it failed.
# shellcheck disable=SC2086 # no dictionary is no word
one() {
  local name=$1 log=$work/$1.log
  local kept=$root/tests/fuzz/corpus/$1 length=4096 dictionary=
  mkdir -p "$work/$name" "$kept"
  case $name in
  snapshot) length=400 ;;
  protocol | table | call) dictionary=-dict=$root/tests/fuzz/words.dict ;; # names of fields and words of kinds
  esac
  if ! "$build/tests/fuzz/fuzz-$name" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=2048 -max_len=$length \
    -seed=1 -len_control=0 -print_final_stats=1 -artifact_prefix="$kept/" $dictionary \
    "$work/$name" "$kept" 2>"$log"; then
    echo "fuzz $name FAILED"; grep -vE '^#[0-9]+\s' "$log" | head -45
    return 1
  fi
  if [ -n "${LZ_FUZZ_KEEP:-}" ]; then "$build/tests/fuzz/fuzz-$name" -merge=1 "$kept" "$work/$name" 2>/dev/null; fi
  local points edges runs
  points=$(sed -n 's/^INFO: Loaded .*(\([0-9]*\) inline 8-bit counters).*/\1/p' "$log" | head -1)
  edges=$(grep -oE 'cov: [0-9]+' "$log" | tail -1 | grep -oE '[0-9]+')
  runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
  printf '%-9s %9d runs, %6d of %6d branches reached (%d %%), nothing found\n' \
    "$name" "$runs" "$edges" "$points" $((100 * edges / points))
}
export -f one
export work root build seconds
printf '%s\n' "$@" | xargs -P "$(nproc)" -I{} bash -c 'one {}'
