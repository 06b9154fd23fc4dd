# SPDX-License-Identifier: GPL-3.0-or-later
# The files of the tree, as git knows them, or as they lie there where the tree is no clone.
import fnmatch, os, subprocess


def files(root, *patterns):
    """Paths below root, with '/', that match any of the patterns (a '*' crosses folders)."""
    git = subprocess.run(['git', '-C', root, 'ls-files'], capture_output=True, text=True)
    if git.returncode == 0 and git.stdout:
        names = [n for n in git.stdout.splitlines() if os.path.exists(os.path.join(root, n))]
    else:
        names = [os.path.relpath(os.path.join(folder, n), root)
                 for top in ('src', 'tests', 'ui', 'data', 'po', 'docs')
                 for folder, _, found in os.walk(os.path.join(root, top)) for n in found]
    return sorted(n for n in names if any(fnmatch.fnmatchcase(n, p) for p in patterns))
