# po/POTFILES must name exactly the files that hold translatable strings.
import os, re, subprocess, sys

root = sys.argv[1]
files = subprocess.run(['git', '-C', root, 'ls-files', 'src/*.c', 'ui/*.ui', 'data/*.in', 'data/*.xml'], capture_output=True, text=True).stdout.split()
want = set()
for name in files:
    text = open(os.path.join(root, name), encoding='utf-8').read()
    if name.endswith('.c') and re.search(r'\b(C_|N_|NC_)?_?\(\s*"|\bngettext\s*\(|\bN_\s*\(|\b_\s*\(', text):
        if re.search(r'(?<![\w])(_|N_|C_|NC_|ngettext|dngettext|g_dngettext|dgettext)\s*\(\s*"', text):
            want.add(name)
    elif name.endswith('.ui') and 'translatable="yes"' in text:
        want.add(name)
have = {line.strip() for line in open(os.path.join(root, 'po/POTFILES'), encoding='utf-8') if line.strip() and not line.startswith('#')}
have_code = {h for h in have if h.startswith(('src/', 'ui/'))}
for name in sorted(want - have_code):
    print('not in po/POTFILES:', name)
for name in sorted(h for h in have if not os.path.exists(os.path.join(root, h))):
    print('in po/POTFILES but not in the tree:', name)
sys.exit(bool(want - have_code) or any(not os.path.exists(os.path.join(root, h)) for h in have))
