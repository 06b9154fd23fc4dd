# SPDX-License-Identifier: GPL-3.0-or-later
# po/POTFILES must name exactly the files that hold translatable strings, in order, each once.
# With --write it is made anew. Usage: check_potfiles.py ROOT [--write]
import os, re, sys

from tree import files

HEAD = '# Every file with strings for translators; tests/layers/check_potfiles.py keeps it complete.\n'
# A call of a gettext macro with a literal; Q_( and dgettext are not used here.
CALL = re.compile(r'(?<!\w)(?:_|N_|C_|NC_|ngettext|g_dngettext|g_dpgettext2|g_dgettext)\s*\(\s*(?:\w+\s*,\s*)?"')
COMMENT = re.compile(r'//[^\n]*|/\*.*?\*/', re.S)
root = sys.argv[1]
want = []
for name in files(root, 'src/*.[ch]', 'ui/*.ui', 'data/*.desktop', 'data/*.metainfo.xml', 'data/*.gschema.xml'):
    text = open(os.path.join(root, name), encoding='utf-8').read()
    if name.endswith(('.c', '.h')):
        found = CALL.search(COMMENT.sub('', text))
    elif name.endswith('.ui'):
        found = 'translatable="yes"' in text or 'translatable="true"' in text
    else:
        found = not name.endswith('.gschema.xml')
    if found:
        want.append(name)
path = os.path.join(root, 'po', 'POTFILES')
if '--write' in sys.argv:
    open(path, 'w', encoding='utf-8').write(HEAD + ''.join(n + '\n' for n in want))
have = [line.strip() for line in open(path, encoding='utf-8') if line.strip() and not line.startswith('#')]
bad = [f'not in po/POTFILES: {n}' for n in want if n not in have]
bad += [f'in po/POTFILES without a string for translators: {n}' for n in have if n not in want]
bad += [f'twice in po/POTFILES: {n}' for n in sorted(set(have)) if have.count(n) > 1]
print(*bad, f'{len(have)} files', sep='\n')
sys.exit(bool(bad) or not have)
