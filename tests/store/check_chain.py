# SPDX-License-Identifier: GPL-3.0-or-later
# The hash chain taken by hand: with docs/store/chain.md, hashlib and sqlite3 only, no code of ours.
# usage: check_chain.py CHAIN.md [STATION_FILE...]
import hashlib
import re
import sqlite3
import struct
import sys


def check_example(page):
    text = open(page, encoding='utf-8').read()
    lines = re.search(r'```hex\n(.*?)```', text, re.S).group(1).splitlines()
    message = b''.join(bytes.fromhex(line.split('  ')[0]) for line in lines)
    printed = re.search(r'```sha256\n(\w{64})\n```', text).group(1)
    assert hashlib.sha256(message).hexdigest() == printed, 'the example does not give its hash'


def whole(number, size=8):
    return number.to_bytes(size, 'big', signed=True)


def text(value):
    data = value.encode()
    return whole(len(data), 4) + data


def value_bytes(name, kind, value):
    if value is None:
        return b''
    if kind == 'INTEGER':
        return text(name) + b'i' + whole(value)
    if kind == 'REAL':
        return text(name) + b'r' + struct.pack('>d', value + 0.0)
    return text(name) + b't' + text(value)


def entry_bytes(db, row, before):
    reason = b'\0' if row['reason'] is None else b'\1' + text(row['reason'])
    parts = [
        b'\1', before, whole(row['id']), text(row['kind']), whole(row['happened_min']),
        whole(row['offset_min'], 4), whole(row['recorded_ms']), whole(row['who'] or 0),
        whole(row['witness'] or 0), reason, row['uid'], whole(row['pc_seq']),
        whole(row['corrects'] or 0), whole(row['voided'], 1), whole(row['entity'] or 0)]
    columns = db.execute('SELECT name, type FROM pragma_table_info(?) WHERE cid > 0 ORDER BY cid',
                         (row['kind'],)).fetchall()
    values = db.execute(f'SELECT * FROM "{row["kind"]}" WHERE id = ?', (row['id'],)).fetchone()
    parts += [value_bytes(c['name'], c['type'], values[c['name']]) for c in columns]
    return b''.join(parts)


def check_file(path):
    db = sqlite3.connect(f'file:{path}?immutable=1', uri=True)
    db.row_factory = sqlite3.Row
    chains, n = {}, 0
    for row in db.execute('SELECT e.*, p.uid FROM entry e JOIN pc p ON p.id = e.pc ORDER BY e.id'):
        seq, before = chains.get(row['uid'], (0, bytes(32)))
        assert row['pc_seq'] == seq + 1, f'{path}: entry {row["id"]}: running number'
        taken = hashlib.sha256(entry_bytes(db, row, before)).digest()
        assert taken == row['hash'], f'{path}: entry {row["id"]}: hash'
        chains[row['uid']] = (row['pc_seq'], taken)
        n += 1
    assert n > 0, f'{path}: no entries'
    print(f'{path}: {n} entries, {len(chains)} chains')


check_example(sys.argv[1])
for file in sys.argv[2:]:
    check_file(file)
print(f'100%: Checks: {len(sys.argv) - 1}, Failures: 0, Errors: 0')
