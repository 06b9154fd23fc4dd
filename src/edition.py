# SPDX-License-Identifier: GPL-3.0-or-later
# What a part of the program is made of and by what, as a number: what another build of it kept on
# this PC is not believed (lzq_book_lend.c, lz_records.c, lz_checkpoints.c).
# Usage: edition.py HEADER DEPFILE NAME BUILT_BY FOLDER...
import hashlib, os, sys

header, depfile, name, built_by, *folders = sys.argv[1:]
total, paths = hashlib.sha256(built_by.encode() + b'\0'), []
for folder in folders:
    for file in sorted(n for n in os.listdir(folder) if n.endswith(('.c', '.h'))):
        paths.append(os.path.join(folder, file))
        with open(paths[-1], 'rb') as source:
            total.update(f'{os.path.basename(folder)}/{file}'.encode() + b'\0' + source.read() + b'\0')
with open(header, 'w') as out:
    out.write(f'#define {name} UINT64_C(0x{total.hexdigest()[:16]})\n')
with open(depfile, 'w') as out:
    out.write(os.path.basename(header) + ': ' + ' '.join(paths) + '\n')
