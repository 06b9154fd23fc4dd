# SPDX-License-Identifier: GPL-3.0-or-later
# What the engine is made of, as a number: a book that another engine lent is not borrowed
# (lzq_book_lend.c). Usage: edition.py HEADER DEPFILE FOLDER
import hashlib, os, sys

header, depfile, folder = sys.argv[1:]
names = sorted(n for n in os.listdir(folder) if n.endswith(('.c', '.h')))
total = hashlib.sha256()
for name in names:
    with open(os.path.join(folder, name), 'rb') as file:
        total.update(name.encode() + b'\0' + file.read() + b'\0')
with open(header, 'w') as out:
    out.write(f'#define LZQ_EDITION UINT64_C(0x{total.hexdigest()[:16]})\n')
with open(depfile, 'w') as out:
    out.write(os.path.basename(header) + ': ' + ' '.join(os.path.join(folder, n) for n in names) + '\n')
