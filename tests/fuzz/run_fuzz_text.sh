#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds the fuzz target of the text parsers with clang, ASan and UBSan and runs it for a bounded time:
# run_fuzz_text.sh [SECONDS]. Inputs to begin with are in tests/data/fuzz-text; a failing one is left there.
set -euo pipefail
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
# shellcheck disable=SC2046
clang -std=gnu17 -g -O1 -fsanitize=fuzzer,address,undefined -fno-sanitize-recover=undefined \
  -DGETTEXT_PACKAGE='"lazaret"' -DG_LOG_DOMAIN='"lazaret"' -Isrc/engine -Isrc/store -Isrc/desk \
  $(pkg-config --cflags gio-2.0) tests/fuzz/fuzz_text.c src/desk/lz_csv.c src/desk/lz_parse.c \
  src/desk/lz_zone.c src/desk/lz_zone_parse.c src/desk/lz_error.c src/desk/lz_format.c \
  src/desk/lz_format_time.c $(pkg-config --libs gio-2.0) -lm -o "$work/fuzz_text"
mkdir "$work/corpus"
"$work/fuzz_text" -max_total_time="${1:-10}" -timeout=10 -rss_limit_mb=1024 -max_len=300 -seed=1 \
  -print_final_stats=1 -artifact_prefix=tests/data/fuzz-text/ "$work/corpus" tests/data/fuzz-text \
  2>"$work/log" || { tail -60 "$work/log"; exit 1; }
grep -E 'DONE|number_of_executed_units|peak_rss' "$work/log"
