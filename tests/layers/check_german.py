# SPDX-License-Identifier: GPL-3.0-or-later
# Every string of the program, as the sources have it now, has German words: none is missing, left
# empty or marked as doubtful (such ones are shown in English). The catalogues are read by gettext's
# own tools.
# usage: check_german.py ROOT
import subprocess
import sys
import tempfile

# as Meson's preset 'glib' has them, which makes the template of the translators
KEYWORDS = ('_', 'N_', 'C_:1c,2', 'NC_:1c,2', 'g_dcgettext:2', 'g_dngettext:2,3', 'g_dpgettext2:2c,3',
            'ngettext:1,2')


def main():
    root = sys.argv[1]
    with tempfile.NamedTemporaryFile(suffix='.pot') as template:
        subprocess.run(['xgettext', '--from-code=UTF-8', '--files-from=po/POTFILES', '-o', template.name,
                        *(f'--keyword={k}' for k in KEYWORDS)], cwd=root, check=True, stderr=subprocess.DEVNULL)
        wrong = subprocess.run(['msgcmp', 'po/de.po', template.name], cwd=root, capture_output=True, text=True)
        subprocess.run(['msgfmt', '-c', '-o', '/dev/null', 'po/de.po'], cwd=root, check=True)
    print(wrong.stderr, end='')
    return wrong.returncode


if __name__ == '__main__':
    sys.exit(main())
