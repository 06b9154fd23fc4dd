# SPDX-License-Identifier: GPL-3.0-or-later
# An exported ledger taken by hand: the CSV, its manifest, docs/store/chain.md and Python's library
# only, no code of ours and no station file.
# usage: check_export.py LEDGER.csv MANIFEST     prints the head; fails at the first wrong entry
#        check_export.py --try LAZARETCTL         exports a demo, checks it, then spoils it
import csv
import datetime
import hashlib
import os
import struct
import subprocess
import sys
import tempfile


class Wrong(Exception):
    pass


def whole(number, size=8):
    return number.to_bytes(size, 'big', signed=True)


def text(value):
    data = value.encode()
    return whole(len(data), 4) + data


def read_manifest(path):
    manifest = {'chain': [], 'kind': {}}
    for line in open(path, encoding='utf-8').read().splitlines():
        name, _, rest = line.partition(' ')
        if name == 'chain':
            manifest['chain'].append(rest.split())
        elif name == 'kind':
            kind, *fields = rest.split()
            manifest['kind'][kind] = [field.rsplit(':', 1) for field in fields]
        else:
            manifest[name] = rest
    return manifest


# Text that a spreadsheet would run as a formula was given an apostrophe.
def bare(cell):
    return cell[1:] if cell[:1] == "'" and cell[1:2] in ('=', '+', '-', '@', '\t', '\r', "'") else cell


def number_of(cell):
    if cell in ('yes', 'no'):
        return int(cell == 'yes')
    return int(cell.lstrip('#') or 0)


def minutes(stamp):
    at = datetime.datetime.fromisoformat(stamp)
    return int(at.timestamp()) // 60


def milliseconds(stamp):
    at = datetime.datetime.fromisoformat(stamp.replace('Z', '+00:00'))
    epoch = datetime.datetime(1970, 1, 1, tzinfo=datetime.timezone.utc)
    return (at - epoch) // datetime.timedelta(milliseconds=1)


def entry_bytes(row, fields, before):
    reason = bare(row['reason'])
    parts = [b'\1', before, whole(number_of(row['id'])), text(row['entry_kind']),
             whole(minutes(row['happened'])), whole(int(row['offset_min']), 4),
             whole(milliseconds(row['recorded'])), whole(number_of(row['who'])),
             whole(number_of(row['witness'])), b'\1' + text(reason) if reason else b'\0',
             bytes.fromhex(row['pc']), whole(int(row['pc_seq'])),
             whole(number_of(row['corrects'])), whole(number_of(row['voided']), 1),
             whole(number_of(row['entity']))]
    for name, letter in fields:
        cell = bare(row[name])
        if cell == '':
            continue
        parts += [text(name), letter.encode(),
                  whole(number_of(cell)) if letter == 'i' else
                  struct.pack('>d', float(cell) + 0.0) if letter == 'r' else text(cell)]
    return b''.join(parts)


def check(ledger, manifest_path):
    manifest = read_manifest(manifest_path)
    data = open(ledger, 'rb').read()
    chains, n = {}, 0
    for row in csv.DictReader(data.decode().splitlines(keepends=True)):
        seq, before = chains.get(row['pc'], (0, bytes(32)))[:2]
        if int(row['pc_seq']) != seq + 1:
            raise Wrong(f'entry {row["id"]}: running number')
        taken = hashlib.sha256(entry_bytes(row, manifest['kind'][row['entry_kind']], before)).digest()
        if taken.hex() != row['hash']:
            raise Wrong(f'entry {row["id"]}: hash')
        chains[row['pc']] = (seq + 1, taken, number_of(row['id']))
        n += 1
    for pc, entries, last, head in manifest['chain']:
        if chains.get(pc, (0, b'', 0)) != (int(entries), bytes.fromhex(head), int(last)):
            raise Wrong(f'chain {pc}: it ends elsewhere')
    head = hashlib.sha256(b''.join(bytes.fromhex(pc) + chains[pc][1] for pc in sorted(chains)))
    if n != int(manifest['entries']) or head.hexdigest() != manifest['head']:
        raise Wrong('the head does not fit')
    if hashlib.sha256(data).hexdigest() != manifest['sha256']:
        raise Wrong('the table is not the one of the manifest')
    print(f'{n} entries, {len(chains)} chains, head {head.hexdigest()}')


def expect_wrong(ledger, manifest, words):
    try:
        check(ledger, manifest)
    except Wrong as wrong:
        assert words in str(wrong), f'{wrong}: not about {words}'
        return
    raise AssertionError(f'nothing was found wrong: {words}')


def spoil(folder, name, change):
    lines = open(f'{folder}/ledger.csv', encoding='utf-8', newline='').read().split('\r\n')
    change(lines)
    out = f'{folder}/{name}.csv'
    open(out, 'w', encoding='utf-8', newline='').write('\r\n'.join(lines))
    return out


def spoil_reading(lines):
    at = next(i for i, line in enumerate(lines) if line.endswith(',reading') and ',0.49,' in line)
    lines[at] = lines[at].replace(',0.49,', ',0.48,', 1)
    spoil_reading.id = lines[at].split(',')[0]


def try_demo(lazaretctl):
    with tempfile.TemporaryDirectory() as folder:
        env = dict(os.environ, XDG_DATA_HOME=folder)
        station, ledger, manifest = (f'{folder}/{n}' for n in ('demo.lazaret', 'ledger.csv', 'manifest'))
        subprocess.run([lazaretctl, station, 'demo'], check=True, env=env, stdout=subprocess.DEVNULL)
        subprocess.run([lazaretctl, station, 'export', 'entries', ledger, '--manifest', manifest],
                       check=True, env=env)
        check(ledger, manifest)
        said = subprocess.run([lazaretctl, station, 'verify'], check=True, env=env,
                              stdout=subprocess.PIPE, text=True).stdout
        assert read_manifest(manifest)['head'] in said, f'verify gives another head: {said}'
        changed = spoil(folder, 'changed', spoil_reading)
        expect_wrong(changed, manifest, f'entry {spoil_reading.id}: hash')
        expect_wrong(spoil(folder, 'short', lambda lines: lines.pop(900)), manifest, 'running number')
        expect_wrong(spoil(folder, 'cut', lambda lines: lines.pop(-2)), manifest, 'ends elsewhere')
    print('100%: Checks: 5, Failures: 0, Errors: 0')


if sys.argv[1] == '--try':
    try_demo(sys.argv[2])
else:
    check(sys.argv[1], sys.argv[2])
