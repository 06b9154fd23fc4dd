#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A language that nobody speaks, written from right to left, to lay the window out in.

    pseudo_locale.py CATALOGUE.po FOLDER

Every message of the catalogue gets a translation: its Latin letters become Hebrew ones, and some of
the words are said twice, since few languages are as short as English. What is not for a reader
stays: %s and its like, <markup>, and what is inside of {braces}. Written as the language qps below
FOLDER, whose name is printed; never installed. To look at it, from the build folder:

    LAZARET_LOCALE_DIR=tests/app/locale LANGUAGE=qps meson devenv src/app/lazaret --demo
"""
import os
import re
import subprocess
import sys

LETTERS = dict(zip("abcdefghijklmnopqrstuvwxyz", "אבצדהפגחיךכלמנוףקרסטעשתזטת"))
KEEP = re.compile(
    r"%(?:\d+\$)?[-+ #0'_^EO]*\d*(?:\.\d+|\.\*)?(?:hh|ll|[hlzjt])?[A-Za-z%]"  # also of dates
    r"|<[^<>]*>|\{[^{}]*\}|&\w+;|\\.")


def letters(text):
    words = []
    for i, word in enumerate(re.split(r"(\s+)", text)):
        turned = "".join(LETTERS.get(c.lower(), c) for c in word.replace("_", ""))
        if i % 6 == 2 and len(word) > 4 and word.isalpha():
            turned += " " + turned
        words.append(turned)
    return "".join(words)


def turn(text):
    out, at = [], 0
    for kept in KEEP.finditer(text):
        out += [letters(text[at:kept.start()]), kept.group()]
        at = kept.end()
    return "".join(out) + letters(text[at:])


def quoted(text):
    return '"%s"' % text


def strings(entry):
    """The fields of one entry of a .po file, each as the raw text between its quotes."""
    fields, name = {}, None
    for line in entry.splitlines():
        if line.startswith("#"):
            continue
        start = re.match(r'(msgctxt|msgid_plural|msgid|msgstr(?:\[\d\])?) "(.*)"$', line)
        if start:
            name = start.group(1)
            fields[name] = start.group(2)
        elif line.startswith('"') and name:
            fields[name] += line[1:-1]
    return fields


def translated(fields):
    if fields.get("msgctxt") == "direction of writing":
        return "rtl"
    return turn(fields["msgid"])


def main(source, folder):
    head = ('msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n'
            '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n')
    out = [head]
    with open(source, encoding="utf-8") as file:
        entries = file.read().split("\n\n")
    for entry in entries:
        fields = strings(entry)
        if not fields.get("msgid"):
            continue
        lines = ["msgctxt " + quoted(fields["msgctxt"])] if "msgctxt" in fields else []
        lines.append("msgid " + quoted(fields["msgid"]))
        if "msgid_plural" in fields:
            lines += ["msgid_plural " + quoted(fields["msgid_plural"]),
                      "msgstr[0] " + quoted(turn(fields["msgid"])),
                      "msgstr[1] " + quoted(turn(fields["msgid_plural"]))]
        else:
            lines.append("msgstr " + quoted(translated(fields)))
        out.append("\n".join(lines) + "\n")
    below = os.path.join(folder, "qps", "LC_MESSAGES")
    os.makedirs(below, exist_ok=True)
    made = subprocess.run(["msgfmt", "-o", os.path.join(below, "lazaret.mo"), "-"],
                          input="\n".join(out).encode(), check=False)
    print(folder)
    return made.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
