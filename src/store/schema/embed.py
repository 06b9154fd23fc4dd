# SPDX-License-Identifier: GPL-3.0-or-later
# Turns the numbered SQL files into a C table: one row per number, the files of that number joined
# in the order given. usage: embed.py OUT.c FILE...
import itertools
import os
import sys


def literal(text):
    lines = []
    for line in text.splitlines():
        line = line.split('--')[0].rstrip()  # comments are for readers of the file
        if line:
            lines.append('    "' + line.replace('\\', '\\\\').replace('"', '\\"') + '\\n"')
    return '\n'.join(lines)


def main(out, files):
    numbered = [(int(os.path.basename(f)[:3]), f) for f in files]
    steps = []
    for number, group in itertools.groupby(numbered, key=lambda pair: pair[0]):
        if number != len(steps) + 1:
            sys.exit(f'schema {number} does not follow {len(steps)}')
        texts = [literal(open(f, encoding='utf-8').read()) for _, f in group]
        steps.append('\n'.join(texts))
    with open(out, 'w', encoding='utf-8') as c:
        c.write('// Made by embed.py from the SQL files beside it.\n#include "lzs_migrate.h"\n\n')
        c.write('const char *const lzs_schema[] = {\n' + ',\n'.join(steps) + ',\n};\n')
        c.write(f'const int lzs_schema_n = {len(steps)};\n')


main(sys.argv[1], sys.argv[2:])
