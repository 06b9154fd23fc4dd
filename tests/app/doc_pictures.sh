#!/bin/bash
# Makes the pictures of docs/pictures anew, from a demo station of one certain minute, so that the keys find
# the same lines each time.
#   tests/app/doc_pictures.sh BUILD
# Needs what shots.sh needs, and pdftoppm for the printed page. Few colours keep them small.
set -eu
here=$(dirname "$(realpath "$0")") build=$(realpath "$1")
pictures=$here/../../docs/pictures
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export LAZARET_DATA_DIR=$here/../../data LC_ALL=C.UTF-8 LANGUAGE=en
export TZ=Europe/Berlin CLOCK='2026-11-26 07:20'
"$build/src/command/lazaretctl" "$work/demo.lazaret" demo --at "$CLOCK"
lot=F4,Down,Down,Down,Down,Down,Down,Down
copper=$(printf 'Down,%.0s' 1 2 3 4 5 6)0,period,4,8
STEPS="F2,$copper:round F3:water $lot:lot F5:plan" \
  bash "$here/shots.sh" "$build" "$work/demo.lazaret" "$work" light 1366x768
STEPS="F3:dark" bash "$here/shots.sh" "$build" "$work/demo.lazaret" "$work" dark 1366x768
"$build/src/command/lazaretctl" "$work/demo.lazaret" print handover --at "$CLOCK" "--pdf=$work/handover.pdf"
pdftoppm -r 90 -png -singlefile "$work/handover.pdf" "$work/handover"
mkdir -p "$pictures"
for made in "$work"/*-1366x768.png "$work/handover.png"; do
  name=$(basename "$made" .png)
  convert "$made" -strip +dither -colors 64 -depth 8 -define png:compression-level=9 \
    "PNG8:$pictures/${name%%-*}.png"
done
ls -l "$pictures"
