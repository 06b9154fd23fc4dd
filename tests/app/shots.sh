#!/bin/bash
# Pictures of every place, at two sizes, light and dark, for people to look at.
#   tests/app/shots.sh BUILD STATION.lazaret OUT_FOLDER [THEMES] [SIZES]
# THEMES of light dark contrast contrast-dark. In the environment: LANGUAGE (de, or qps with
# LAZARET_LOCALE_DIR=BUILD/tests/app/locale), PERCENT of text, STEPS as "KEY,KEY:NAME ..." (a picture
# after the keys, by their X names) for other pages than the five places, CLOCK for another time.
# Needs xvfb, dbus, openbox, xdotool, imagemagick. The station is copied first: nothing is changed.
set -eu
build=$(realpath "$1") station=$(realpath "$2") out=$3
themes=${4:-light dark} sizes=${5:-1366x768 1920x1080}
steps=${STEPS:-F2:round F3:water F4:lots F5:plan F6:station}
mkdir -p "$out"
out=$(realpath "$out")
home=$(mktemp -d)
trap 'rm -rf "$home"' EXIT
export LC_ALL=C.UTF-8 GSK_RENDERER=cairo GTK_A11Y=none GDK_BACKEND=x11 NO_AT_BRIDGE=1
export XDG_CONFIG_HOME=$home/config XDG_DATA_HOME=$home/data XDG_CACHE_HOME=$home/cache
export GSETTINGS_BACKEND=keyfile GSETTINGS_SCHEMA_DIR=$build/data
export LAZARET_LOCALE_DIR=${LAZARET_LOCALE_DIR:-$build/po}
export LAZARET_DATA_DIR=${LAZARET_DATA_DIR:-$(dirname "$0")/../../data}
for size in $sizes; do
  for theme in $themes; do
    cp "$station" "$home/station.lazaret"
    mkdir -p "$XDG_CONFIG_HOME/glib-2.0/settings"
    printf "[net/lazaret/Lazaret]\ntheme='%s'\nwindow-maximized=true\ntext-percent=%s\n" "$theme" \
      "${PERCENT:-100}" >"$XDG_CONFIG_HOME/glib-2.0/settings/keyfile"
    size=$size theme=$theme out=$out build=$build home=$home steps=$steps dbus-run-session -- \
      xvfb-run -a -s "-screen 0 ${size}x24 -noreset" bash -c '
      openbox 2>/dev/null & sleep 0.5
      "$build/src/app/lazaret" ${CLOCK:+--clock "$CLOCK"} "$home/station.lazaret" & app=$!
      for _ in $(seq 100); do
        id=$(xdotool search --onlyvisible --name Lazaret 2>/dev/null | head -1)
        [ -n "$id" ] && break
        sleep 0.2
      done
      sleep 1
      xdotool windowsize "$id" 100% 100% windowmove "$id" 0 0
      sleep 1
      for step in $steps; do
        for key in $(tr , " " <<<"${step%%:*}"); do
          xdotool key --clearmodifiers "$key"
          sleep 0.3
        done
        sleep 1.2
        import -window root "$out/${step##*:}-$theme-$size.png"
      done
      kill $app'
  done
done
ls "$out"
