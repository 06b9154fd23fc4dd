#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Frama-C's Eva over engine modules (docs/engine/eva.md): prints every alarm that is left, and ends with
# status 1 if there are more than the known ones. Skips with a message where frama-c is missing (apt-get install
# --no-install-recommends frama-c-base). Minutes long: not a part of the ordinary tests.
# run_eva.sh [DRIVER...]
set -uo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
cd "$root" || exit 2
if ! command -v frama-c >/dev/null; then
  echo "SKIPPED: frama-c is not installed"
  exit 0
fi
declare -A sources=(
  [eva_doses]="src/engine/lzq_balance.c src/engine/lzq_dose.c src/engine/lzq_gate.c src/engine/lzq_units.c"
  [eva_new_water]="src/engine/lzq_new_water.c src/engine/lzq_balance.c src/engine/lzq_model.c"
  [eva_memory]="src/engine/lzq_sort.c"
  [eva_history]="src/engine/lzq_history.c src/engine/lzq_sort.c src/engine/lzq_model_records.c"
)
[ $# -gt 0 ] || set -- eva_doses eva_new_water eva_memory eva_history
declare -A precision=([eva_memory]=9)
# What Eva cannot decide, and why: docs/engine/eva.md.
declare -A known=()
left=0
for name; do
  log=$(mktemp)
  # NaN and infinities are values like others here, so they are no alarms; unions and padding as gcc has them.
  if ! frama-c -machdep gcc_x86_64 -c11 -cpp-extra-args="-Isrc/engine" -warn-special-float none -eva \
    -eva-precision "${precision[$name]:-4}" -eva-msg-key=-summary,-final-states -main main "tests/eva/$name.c" ${sources[$name]} >"$log" 2>&1; then
    tail -20 "$log"
    echo "$name: Eva did not finish"
    exit 2
  fi
  n=$(grep -c '^\[eva:alarm\]' "$log")
  grep -A1 '^\[eva:alarm\]' "$log"
  echo "$name: $n alarms, ${known[$name]:-0} of them known"
  [ "$n" -gt "${known[$name]:-0}" ] && left=$((left + 1))
  rm -f "$log"
done
[ "$left" -eq 0 ]
