# SPDX-License-Identifier: GPL-3.0-or-later
# Every word that a field of an entry may hold is shown in lists to choose from, by lz_word_shown: each
# must be in the catalogue of every language. Usage: check_choices.py ROOT
import os, re, sys

from tree import files

root = sys.argv[1]
read = lambda name: open(os.path.join(root, name), encoding='utf-8').read()
words = set()
for name in files(root, 'src/store/lzs_kind_*.c'):
    for text in re.findall(r'(?<=")[a-z0-9_]+(?:\|[a-z0-9_]+)+(?=")', re.sub(r'"\s*\n\s*"', '', read(name))):
        words.update(text.split('|'))
bad = []
for name in files(root, 'po/*.po'):
    has = set(re.findall(r'^msgid "(.*)"$', read(name), re.M))
    bad += [f'{name} lacks the word "{w}"' for w in sorted(words) if w.replace('_', ' ') not in has]
print(*bad, f'{len(words)} words', sep='\n')
sys.exit(bool(bad) or not words)
