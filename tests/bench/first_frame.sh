#!/bin/bash
# Time to a mapped window and memory (Pss) of the program against a bare GTK window, in one run.
#   tests/bench/first_frame.sh BUILD STATION.lazaret     after: ninja -C BUILD tests/bench/bench-window
# Needs xvfb, dbus, xdotool. The station is copied first.
set -eu
build=$(realpath "$1") home=$(mktemp -d)
trap 'rm -rf "$home"' EXIT
cp "$2" "$home/station.lazaret"
export build home LC_ALL=C.UTF-8 GSK_RENDERER=cairo GDK_BACKEND=x11 HOME=$home XDG_CONFIG_HOME=$home
export XDG_DATA_HOME=$home XDG_CACHE_HOME=$home GSETTINGS_BACKEND=memory GSETTINGS_SCHEMA_DIR=$build/data
dbus-run-session -- xvfb-run -a -s '-screen 0 1366x768x24 -noreset' bash -c '
  look() { # name, command
    local begun=$(date +%s%N)
    $2 & local app=$!
    until xdotool search --onlyvisible --pid $app --name Lazaret >/dev/null 2>&1; do sleep 0.01; done
    local ms=$(( ($(date +%s%N) - begun) / 1000000 ))
    sleep 2
    echo "$1: $ms ms, $(awk "/^Pss:/ {print int(\$2 / 1024)}" /proc/$app/smaps_rollup) MiB"
    kill $app; wait $app 2>/dev/null || true
  }
  for i in 1 2 3; do
    look bare "$build/tests/bench/bench-window"
    look lazaret "$build/src/app/lazaret $home/station.lazaret"
  done' 2>/dev/null
