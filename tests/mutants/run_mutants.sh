#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Breaks the engine on purpose, one patch of this folder at a time, in a copy of the tree, and shows that
# the engine's tests turn red. Exit status 0 only if every patch applies, builds and is caught.
# run_mutants.sh [PATCH...]; CC is honoured.
set -uo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cc=${CC:-gcc}
flags=(-std=gnu17 -O1 -w -ffp-contract=off -Isrc/engine -Itests/engine -Itests/lib
  "-DLZT_HISTORIES=\"$work/tree/tests/data/histories\"")
programs=(replay properties invariance book)
for t in "$root"/tests/engine/test_credit*.c; do
  [ -e "$t" ] && programs+=("$(basename "$t" .c | sed s/^test_//)")
done

mkdir -p "$work/tree/tests/data" "$work/obj"
cd "$work/tree"
mkdir src && cp -r "$root/src/engine" src/ && cp -r "$root/tests/engine" "$root/tests/lib" tests/
cp -r "$root/tests/data/histories" tests/data/

compile() { # FILE...
  printf '%s\n' "$@" | xargs -P 2 -I{} sh -c 'o=$(printf %s {} | tr / _).o; '"$cc ${flags[*]@Q}"' -c {} -o '"$work/obj"'/$o'
}

# Names of the tests that failed, in one line; empty = all passed.
run() {
  local failed= name out
  for name in "${programs[@]}"; do
    local extra=()
    case $name in
    replay) extra=("$work/obj/tests_engine_replay_compare.c.o" "$work/obj/tests_engine_plan_print.c.o") ;;
    properties | invariance) extra=("$work/obj/tests_engine_property_kit.c.o") ;;
    book) extra=("$work/obj/tests_engine_plan_print.c.o" "$work/obj/tests_engine_book_loan.c.o") ;;
    credit*) extra=("$work/obj/tests_lib_station_builder.c.o") ;;
    esac
    $cc -o "$work/t" "$work/obj/tests_engine_test_$name.c.o" "${extra[@]}" "$work/oracle.a" \
      "$work/obj"/src_engine_*.o -lcheck -lsubunit -lm -lrt -lpthread 2>"$work/link" ||
      { cat "$work/link"; echo "cannot link $name"; return 1; }
    out=$(LZ_HISTORIES=3000 LZ_STATIONS=150 LZ_SHRINK=0 timeout 20 "$work/t" 2>&1)
    local status=$?
    [ $status -eq 0 ] && continue
    failed+=" $name:$(printf '%s\n' "$out" | sed -nE 's/^[^:]+:[0-9]+:[FE]:[^:]*:([a-z_0-9]+):.*/\1/p' | paste -sd,)"
    [ $status -eq 124 ] && failed+="(no end)"
  done
  printf '%s' "$failed"
}

compile src/engine/*.c tests/engine/oracle*.c tests/engine/random_*.c tests/engine/history_file.c \
  tests/engine/replay_compare.c tests/engine/property_kit.c tests/engine/plan_print.c tests/engine/book_loan.c tests/lib/prng.c tests/lib/station_builder.c \
  $(printf 'tests/engine/test_%s.c ' "${programs[@]}") || exit 1
ar rcs "$work/oracle.a" "$work"/obj/tests_engine_{oracle,random_,history}*.o "$work"/obj/tests_lib_prng.c.o
sound=$(run)
if [ -n "$sound" ]; then
  echo "the engine itself fails:$sound"
  exit 1
fi
caught=0 total=0
patches=("$@")
[ ${#patches[@]} -gt 0 ] || patches=("$here"/*.patch)
for patch in "${patches[@]}"; do
  total=$((total + 1))
  name=$(basename "$patch" .patch)
  if ! patch -s -p1 <"$patch" >"$work/log" 2>&1; then
    echo "NOT APPLIED $name: $(head -1 "$work/log")"
    cp -r "$root/src/engine" src/
    continue
  fi
  files=$(sed -n 's,^+++ b/\(src/engine/.*\.c\).*,\1,p' "$patch")
  if compile $files; then
    result=$(run)
    if [ -n "$result" ]; then
      caught=$((caught + 1))
      echo "caught      $name by$result"
    else
      echo "NOT CAUGHT  $name"
    fi
  else
    echo "NOT BUILT   $name"
  fi
  cp "$root"/src/engine/*.c "$root"/src/engine/*.h src/engine/
  compile $files
done
echo "$caught of $total mutants caught"
[ "$caught" -eq "$total" ] && [ "$total" -gt 0 ]
