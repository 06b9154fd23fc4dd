# SPDX-License-Identifier: GPL-3.0-or-later
# Every sheet of an invented station and of the demo, printed by lazaretctl and read with pdftotext: each
# figure compared with what ledger_reader.py makes of the station's file alone.
# usage: check_figures.py LAZARETCTL
import os
import re
import subprocess
import sys
import tempfile
from datetime import datetime, timedelta, timezone

import told_station
from ledger_reader import DAY, Store
from written import grouped, printed, reading, short, span, whole

checks = failures = 0


def expect(good, words):
    global checks, failures
    checks += 1
    if not good:
        failures += 1
        print(f'FAILED: {words}')


class Sheet:
    def __init__(self, desk, words):
        pdf = os.path.join(desk.folder, 'sheet.pdf')
        told_station.run(desk.lazaretctl, desk.path, f"print {words} --at '{desk.at}' --pdf '{pdf}'", desk.env)
        text = subprocess.run(['pdftotext', '-layout', pdf, '-'], check=True, stdout=subprocess.PIPE).stdout.decode()
        self.text = re.sub('[\u00a0\u2009\u202f]', ' ', text)
        self.words, self.at = words, self.text

    # From one heading to the next.
    def part(self, begin, end=None):
        start = re.search(r'(?m)^\s*(\d\s+)?' + re.escape(begin), self.text)
        expect(start is not None, f'{self.words}: no “{begin}”')
        rest = self.text[start.start():] if start else ''
        stop = re.search(r'(?m)^\s*(\d+\s+)?' + re.escape(end), rest) if end else None
        self.at = rest[:stop.start()] if stop else rest
        return self

    # A printed line of the part with these texts in this order, each bounded by something else. A tuple:
    # one of them.
    def row(self, *texts):
        choices = [t if isinstance(t, tuple) else (t,) for t in texts]
        pattern = '.*?'.join(r'(?<![\w.])(?:' + '|'.join(map(re.escape, c)) + r')(?![\w.]*\d)' for c in choices)
        found = re.search(pattern, self.at)
        expect(found is not None, f'{self.words}: no row {texts} in\n{self.at[:3000]}')

    def has(self, text):
        expect(text in ' '.join(self.at.split()), f'{self.words}: no “{text}” in\n{self.at[:3000]}')

    def count(self, pattern, n):
        found = len(re.findall(pattern, self.at))
        expect(found == n, f'{self.words}: {found} of “{pattern}”, the ledger has {n}')


class Desk:
    def __init__(self, lazaretctl, folder, env, path, at):
        self.lazaretctl, self.folder, self.env, self.path, self.at = lazaretctl, folder, env, path, at
        self.store = Store(path, at)


def check_register(desk):
    s, sheet = desk.store, Sheet(desk, 'register')
    lots = s.lots()
    for row in s.facts('lot'):
        sheet.part('Receipts', 'Movements').row(printed(s, row), row['code'], str(row['heads']),
                                                str(row['dead_on_arrival']) if row['dead_on_arrival'] is not None else '–')
    sheet.part('Treatments', 'Medicines')
    for row in s.facts('dose'):
        reached = [lot['code'] for lot in lots.values() if s.stood(lot, row['happened_min']) == row['system']]
        sheet.row(printed(s, row), f'{row["amount_ml"]:.1f} mL', s.name('system', row['system']), s.who[row['who']])
        line = re.search(re.escape(printed(s, row)) + '.*' + f' {row["amount_ml"]:.1f} mL.*', sheet.at)
        told = re.findall(r'[\w]+', line.group() if line else '')
        expect(all(code in told for code in reached), f'register: {reached} in {told}')
    sheet.count(r'\d mL [A-Z]', len(s.facts('dose')))
    sheet.part('Deaths', 'Disposals')
    for row in s.facts('death'):
        sheet.row(printed(s, row), lots[row['lot']]['code'], f'{row["heads"]} dead', s.who[row['who']])
    sheet.count(r' \d+ dead, ', len(s.facts('death')))
    sheet.part('Medicines', 'Deaths')
    for key, bottle in s.things('bottle').items():
        opened, come, given, thrown, lost, left = s.bottle(key)
        if given:
            sheet.row(bottle['name'], short(given), f'{short(come)}, {short(thrown + lost)}')


def check_medicines(desk):
    s, sheet = desk.store, Sheet(desk, 'medicines')
    lots = s.lots()
    for key, bottle in s.things('bottle').items():
        sheet.part('Bottles', 'In and out').row(bottle['name'], *[short(x) for x in s.bottle(key)])
        reached = {}
        for dose in s.facts('dose'):
            for lot in lots if dose['bottle'] == key else ():
                if s.had(lot, dose['happened_min'], dose['system']):
                    reached.setdefault(lot, []).append(dose)
        sheet.part(f'Batch {bottle["batch"]}:')
        sheet.at = re.split('Batch ', sheet.at)[1]
        for lot, doses in reached.items():
            mg = sum(d['amount_ml'] * s.mg_per_ml(key) for d in doses)
            last = max(doses[-1]['happened_min'], lots[lot]['way'][0][0],
                       *[at for at, other in lots[lot].get('joined', ())
                         if not s.had(lot, doses[-1]['happened_min'], doses[-1]['system'])[1]])
            sheet.row(lots[lot]['code'], str(s.fish(lots, lot, last)), bottle['name'],
                      str(len(doses)), s.stamp(doses[0]['happened_min'])[:10],
                      s.stamp(doses[-1]['happened_min'])[:10], whole(mg))
        sheet.has(f'{len(reached)} lots reached' if reached else 'it reached no fish')
    for row in s.facts('stock'):
        sheet.part('In and out', 'Fish that').row(printed(s, row), s.name('bottle', row['bottle']),
                                                  short(row['change_ml']).replace('-', '−'), row['words'] or '–')


# Each reading of the lot's waters, each dose with the level right after it by exact mass balance.
def check_lot(desk, key, lot):
    s, sheet = desk.store, Sheet(desk, f'lot-record --lot {lot["code"]}')
    doses = [d for d in s.facts('dose') if s.had(key, d['happened_min'], d['system'])]
    sheet.part('Given to the water', 'Water changed')
    for d in doses:
        level = s.carried(d['system'], d['happened_min'])
        sheet.row(printed(s, d), s.name('system', d['system']), f'{d["amount_ml"]:.1f} mL',
                  '–' if level is None else f'{level:.3f}')
        whose = s.had(key, d['happened_min'], d['system'])[0]
        told = re.search(re.escape(printed(s, d)) + f'.* {d["amount_ml"]:.1f} mL.*\n.*', sheet.at).group()
        expect(whose == key or f'lot {s.lots()[whose]["code"]}' in told, f'{sheet.words}: given to lot {whose}: {told}')
    sheet.count(r'\d mL [A-Z]', len(doses))
    sheet.part('Medicines used', 'Given')
    used = {}
    for d in doses:
        whose, whole_lot = s.had(key, d['happened_min'], d['system'])
        used.setdefault((d['bottle'], None if whole_lot else whose), []).append(d['amount_ml'])
    for (bottle, joined), amounts in used.items():
        ml = sum(amounts)
        sheet.row(s.name('bottle', bottle), tuple(f'{short(ml)} mL, {mg} mg' for mg in whole(ml * s.mg_per_ml(bottle))))
        expect(not joined or f'lot {s.lots()[joined]["code"]} before it joined' in sheet.at, f'{sheet.words}: {joined}')
    check_gaps(s, sheet)
    sheet.part('Levels measured', 'Time served')
    readings = [r for r in s.facts('reading') if r['analyte'] == 'copper' and
                s.had(key, r['happened_min'], r['system']) in [(whose, True) for whose in s.lots()]]
    for r in readings:
        sheet.has(f'{s.stamp(r["happened_min"])[11:]} {reading(r)}')
    check_estimates(s, sheet, readings)
    sheet.part('Moved, seen', 'Contacts')
    deaths = [d for d in s.facts('death') if d['lot'] == key]
    for d in deaths:
        sheet.row(printed(s, d), 'deaths', f'{d["heads"]} dead')
    sheet.count('deaths ', len(deaths))
    sheet.part('Treatment record')
    if not lot.get('gone') and lot['kind'] == 'lot':
        sheet.has(f'Here now: {s.fish(s.lots(), key, s.now)}')


def minutes(words):
    return sum(int(n) * {'d': DAY, 'h': 60, 'min': 1}[unit] for n, unit in re.findall(r'(\d+) (d|h|min)\b', words))


# The proof adds up: of a stay that asks for credit, served and not served together are its length. Stations
# read here ask for it in one phase, and each row of the gaps is one stretch of it.
def check_gaps(s, sheet):
    sheet.part('Time served', 'Moved')
    stamp = r'(\d{4}-\d\d-\d\d \d\d:\d\d)'
    stays = re.findall(rf'(?m)^(\S.*?) {{2,}}{stamp}\s+({stamp}|–) .*? of credit.*?  +((?:\d+ (?:d|h|min) ?)+)', sheet.at)
    if len(stays) != 1:
        return
    name, begin, end, _, served = stays[0]
    length = (s.now if end == '–' else s.minute(end)) - s.minute(begin)
    gaps = re.findall(rf'(?m)^{re.escape(name)} {{2,}}{stamp}\s+{stamp}\s+((?:\d+ (?:d|h|min) ?)+)(?! ?of)', sheet.at)
    more = re.findall(r'and \d+ more gaps?, (.*?) together', sheet.at)
    for a, b, told in gaps:
        expect(s.minute(b) - s.minute(a) == minutes(told), f'{sheet.words}: gap {a} to {b}, {told}')
    lost = sum(minutes(told) for *_, told in gaps) + sum(map(minutes, more))
    expect(length == minutes(served) + lost, f'{sheet.words}: {length} min, served {served}, not served {gaps} {more}')


# The estimator's line is a filter's, not a mass balance: each day's lowest and highest stay within three
# standard errors of the instrument, 0.03 mg/L, of the readings and the levels after doses and changes of
# that day and its neighbours. A doubted reading is not believed by the filter, so there is no such line then.
def check_estimates(s, sheet, readings):
    told = re.findall(r'(?m)^(\d{4}-\d\d-\d\d) .*?(\d\.\d{3}) to (\d\.\d{3})', sheet.at)
    expect(len(told) >= len({s.stamp(r['happened_min'])[:10] for r in readings}) - 1 if readings else not told,
           f'{sheet.words}: {len(told)} days with an estimate')
    if any(r['suspect'] for r in s.facts('reading')):
        return
    points = [(r['happened_min'], r['value']) for r in readings]
    for system in {r['system'] for r in readings}:
        for when, *_ in s.doings(system):
            for at in (when - 1, when):
                level = s.carried(system, at)
                points += [(at, level)] if level is not None else []
    for day, low, high in told:
        noon = s.minute(f'{day} 12:00')
        near = [v for at, v in points if abs(at - noon) <= DAY]
        low, high = float(low), float(high)
        expect(low <= high and near and low > min(near) - 0.03 and high < max(near) + 0.03,
               f'{sheet.words}: {day} estimated {low} to {high}, measured and dosed {sorted(near)}')


def check_month(desk, system):
    s, sheet = desk.store, Sheet(desk, f'month-sheet --system {system["name"]}')
    key, month = system['entity'] or system['id'], s.stamp(s.now)[:7]
    sheet.part('day')
    for day in range(1, s.local(s.now).day + 1):
        date = f'{month}-{day:02}'
        mine = {kind: [r for r in s.facts(kind) if r['system'] == key and s.stamp(r['happened_min'])[:10] == date]
                for kind in ('reading', 'dose', 'change')}
        copper = [r for r in mine['reading'] if r['analyte'] == 'copper']
        cells = []
        for half in (0, 1):
            level = [reading(r) for r in copper if (s.local(r['happened_min']).hour >= 12) == bool(half)]
            cells += level[-1:]
        for analyte, form in (('salinity', '.1f'), ('temperature', '.1f'), ('ph', '.2f'), ('ammonia', '.3f'), ('nitrite', '.3f')):
            cells += [reading(r, form) for r in mine['reading'] if r['analyte'] == analyte][-1:]
        for kind, field in (('dose', 'amount_ml'), ('change', 'litres')):
            total = sum(r[field] or 0 for r in mine[kind])
            cells += [short(total)] if total else []
        line = re.search(rf'(?m)^\s*{day}( .*)?$', sheet.at)
        told = re.split(r'\s{2,}', re.sub(r'^\s*\d+', '', line.group(), count=1)) if line else []
        told = [t for t in told if re.fullmatch(r'\(?[\d ]+(\.\d+)?\)?', t)]
        expect(told == cells, f'month {system["name"]}, day {day}: {told}, the ledger has {cells}')


def said(n):
    return '–' if n is None else str(n)


def check_claim(desk, key, shipment):
    s, sheet = desk.store, Sheet(desk, f'claim --shipment {shipment["code"]}')
    mine = {r['corrects'] or r['id']: r for r in s.facts('lot') if r['shipment'] == key}
    totals = [None] * 6  # what nobody said is no zero
    for lot, row in mine.items():
        n = [row[f] for f in ('invoiced', 'heads', 'dead_on_arrival')]
        some = [v or 0 for v in n]
        lacks = max(0, some[0] - some[1] - some[2]) if n[0] is not None else None
        after = sum(d['heads'] for d in s.facts('death')
                    if d['lot'] == lot and d['happened_min'] < row['happened_min'] + 7 * DAY)
        sheet.part('Counted', 'Died within').row(row['code'], *map(said, n + [lacks]), str(after))
        sheet.part('Counted', 'Died within')
        over = some[1] + some[2] - some[0] if n[0] is not None else 0
        expect((f'{row["code"]}: {over} more than invoiced' in sheet.at) == (over > 0),
               f'claim: lot {row["code"]}, {over} over')
        totals = [a if b is None else (a or 0) + b for a, b in zip(totals, n + [lacks, row['weak'], after])]
    if mine:
        sheet.row('all', *map(said, totals))


def check_cards(desk, system):
    s, sheet = desk.store, Sheet(desk, f'tank-card --system {system["name"]}')
    lots, key = s.lots(), system['entity'] or system['id']
    cards = sheet.text.split('\f')[:-1]
    here = {c: n for c, n in lots.items() if s.stood(n, s.now) == key and 'gone' not in n}
    expect(len(cards) == max(1, len(here)), f'{len(cards)} cards for {len(here)} lots')
    for lot, row in here.items():
        sheet.text = sheet.at = next((c for c in cards if re.search(rf'(?m)^\s+{row["code"]}\s', c)), '')
        sheet.row(row['code'], f'{s.fish(lots, lot, s.now)} fish')
        sheet.has(s.stamp(s.lots()[row['parent'] or lot]['way'][0][0])[:10])


# The row of a water tells the lot that has served least: some lot that stands there.
def check_course_day(desk, sheet, key, name):
    s = desk.store
    firsts = {s.day_one(lot, s.now) for lot, row in s.lots().items() if s.stood(row, s.now) == key}
    days = {s.day_number(first, s.now) for first in firsts if first is not None}
    told = re.search(re.escape(name) + r'\s[\s\S]*?day (\d+) ', sheet.at)
    expect(told and int(told.group(1)) in days, f'handover: {name}, {told and told.group()}, the ledger has {days}')


# What is late was due at a round of the station, or when the last reading was as old as a band allows; it has no
# reading since (one up to two hours before a round is that round's), stands once, and is what block 2 calls the
# next test. Returns the waters.
def check_late(desk, sheet):
    s, late = desk.store, re.findall(r'(?m)^\s+(\S+)\s+Test (.+?)\s{2,}.*late since (\d\d:\d\d)\b', sheet.part('Not started', 'Instruments').at)
    slots = s.db.execute('SELECT slots FROM station WHERE slots IS NOT NULL ORDER BY id DESC').fetchone()[0].split()
    names = {row['name']: key for key, row in s.things('system').items()}
    asked = [(water, analyte) for water, what, _ in late for analyte in what.split(', ')]
    expect(len(asked) == len(set(asked)), f'handover asks twice: {asked}')
    for water, analyte, since in [(w, a, since) for w, what, since in late for a in what.split(', ')]:
        due = s.minute(f'{s.stamp(s.now)[:10]} {since}')
        read = [r['happened_min'] for r in s.believed(names[water], analyte)]
        round = since in slots or due - read[-1] in {row['gap_min'] for row in s.facts('band')}
        expect(round and due < s.now and all(at < due - 120 for at in read),
               f'handover: {water} {analyte} late since {since}, rounds {slots}, read {[s.stamp(at) for at in read[-2:]]}')
        row = re.search(re.escape(water) + r'\s[\s\S]*?late (\S+)', sheet.part('Water under treatment', 'Moves').at)
        expect(row and row.group(1) == since, f'handover: {water} late since {since}, block 2 says {row and row.group()}')
    return sorted({water for water, _, _ in late})


def check_handover(desk):
    s, sheet = desk.store, Sheet(desk, 'handover')
    now, since = s.now, s.now - 12 * 60
    sheet.part('Water under treatment', 'Moves')
    for key, system in s.things('system').items():
        readings = s.believed(key, 'copper')
        there = [lot for lot, n in s.lots().items() if s.stood(n, now) == key]
        dosed = [d for d in s.facts('dose') if d['system'] == key and s.stamp(d['happened_min'])[:10] == s.stamp(now)[:10]]
        # after the hold of the invented stations nothing is asked of the water any more
        firsts = [first for first in (s.day_one(lot, now) for lot in there) if first is not None]
        over = s.only_house() and all(s.served(key, first, 0.18, 960) >= 14 * DAY for first in firsts)
        if system['role'] == 'treatment' and readings and (there and not over or dosed):
            sheet.row(system['name'], f'{readings[-1]["value"]:.3f} mg/L')
            if there and not over:
                check_course_day(desk, sheet, key, system['name'])
            sheet.has(s.stamp(readings[-1]['happened_min'])[11:])
            read, now_there = f'{readings[-1]["value"]:.3f}', f'{s.carried(key, now + 1):.3f}'
            said = told_station.run(desk.lazaretctl, desk.path, f"water --system {system['name']} --at '{desk.at}'", desk.env)
            if now_there != read:
                sheet.has(f'now {now_there}')
                expect(f'copper {now_there} mg/L now, estimated; {read} mg/L was read' in said, f'water: {said}')
            else:
                expect(f'copper {read} mg/L, read' in said, f'water: {said}')
    check_late(desk, sheet)
    sheet.part('Water under treatment', 'Moves')
    for d in s.facts('dose'):
        if s.stamp(d['happened_min'])[:10] == s.stamp(now)[:10]:
            sheet.row(f'{d["amount_ml"]:.1f} mL,')
            sheet.has(s.who[d['who']])
    sheet.part('Deaths and signs', 'Shipments')
    deaths = [d for d in s.facts('death') if d['happened_min'] >= since]
    for d in deaths:
        sheet.has(f'{s.stamp(d["happened_min"])[11:]}, {s.lots()[d["lot"]]["code"]}')
        sheet.has(f'{d["heads"]} dead')
    sheet.part('Shipments', 'Not started')
    for key, ship in s.things('shipment').items():
        to_come = ship['happened_min'] <= s.now and not any(r['shipment'] == key for r in s.facts('lot'))
        expect((ship['code'] + ':' in sheet.at) == to_come,
               f'handover: shipment {ship["code"]}')
    sheet.part('Stock below', 'By pen')
    for key, bottle in s.things('bottle').items():
        left = s.bottle(key)[5]
        low = bottle['reorder_ml'] is not None and left <= bottle['reorder_ml']
        expect((f'{bottle["name"]}: {grouped(f"{left:.1f}")} mL left' in sheet.at) == low,
               f'handover: bottle {bottle["name"]}, {left} mL left, in\n{sheet.at}')
        used = sum(d['amount_ml'] for d in s.facts('dose')
                   if d['bottle'] == key and d['happened_min'] >= now - 14 * DAY)
        if low and used:
            sheet.has(f'for about {int(left * 14 / used)} days')
    return sheet


# The invented station has one phase, so what it served and what is closed can be worked out by hand.
def check_credit(desk, handover):
    s, closed, lots = desk.store, [], desk.store.lots()
    for lot, row in lots.items():
        if row['parent'] or not any(c['lot'] == lot for c in s.facts('course')):
            continue
        course = next(c for c in s.facts('course') if c['lot'] == lot)
        system = row['way'][-1][1]
        served = s.served(system, course['happened_min'], 0.18, 960)
        record = Sheet(desk, f'lot-record --lot {row["code"]}').part('Time served', 'Moved')
        minutes = f' {served % 60} min' if served % 60 else ''
        record.row('Hold', printed(s, course), f'{span(served)}{minutes}', 'still in it')
        day = (s.local(s.now).date() - s.local(course['happened_min']).date()).days + 1
        handover.part('Water under', 'Moves').has(f'day {day} · Hold: {span(served)} of 14 d')
        cards = Sheet(desk, f'tank-card --system {s.name("system", system)}')
        cards.has(f'Hold: {span(served)} of 14 d')
        if served < 14 * DAY:
            closed.append(s.name('system', system))
    expect(0 < len(set(closed)) < len(s.things('system')), f'closed: {closed}')
    handover.part('Moves', 'Deaths').has('Nothing in or out: ' + ', '.join(sorted(set(closed))) + '.')


# A copper dose that is asked for brings the last reading to the target: mg = (target - level) x litres.
def check_round(desk):
    told_station.run(desk.lazaretctl, desk.path, "record reading --who MK --happened '2027-03-09 17:05' "
                     'system=Blue-2 analyte=copper value=0.165 instrument=P1', desk.env)
    sheet = Sheet(desk, 'round-sheet')
    sheet.row('Blue-2', 'Dose C-08', f'{(0.19 - 0.165) * 500 / 1.0:.1f} mL')
    handover = Sheet(desk, 'handover')
    handover.part('Out of range', 'Water under').row('Blue-2', '0.165 mg/L')
    handover.part('Not started', 'Instruments').row('Blue-2', '12.5 mL')


def check_all(desk, quiet=False):
    s = desk.store
    expect(quiet or len(s.facts('dose')) > 3, 'no doses')
    check_register(desk)
    check_medicines(desk)
    # lots that went the same way through the same waters have the same figures: two of each are enough
    ways = {}
    for key, lot in s.lots().items():
        way = tuple((at, system) for at, system, _ in lot['way'])
        ways[way] = ways.get(way, 0) + 1
        if ways[way] <= 2:
            check_lot(desk, key, lot)
    for key, ship in s.things('shipment').items():
        check_claim(desk, key, ship)
    for system in s.things('system').values():
        check_month(desk, system)
        check_cards(desk, system)
    return check_handover(desk)


def main(lazaretctl):
    with tempfile.TemporaryDirectory() as folder:
        env = dict(os.environ, XDG_DATA_HOME=folder)
        told = Desk(lazaretctl, folder, env, told_station.make(lazaretctl, folder, env), told_station.AT)
        handover = check_all(told)
        check_credit(told, handover)
        missed = Desk(lazaretctl, folder, env, told.path, '2027-03-07 18:30')
        waters = check_late(missed, Sheet(missed, 'handover'))
        expect(waters == ['Blue-1', 'Blue-2'], f'late on the evening of the seventh: {waters}')
        check_round(told)
        odd = told_station.make_odd(lazaretctl, folder, env)
        for at in ('2027-02-01 00:00', '2027-03-05 10:00', '2027-03-07 09:00', '2027-03-28 01:59', told_station.ODD_AT):
            print(f'odd station at {at}')
            check_all(Desk(lazaretctl, folder, env, odd, at), quiet=True)
        seed = int(os.environ.get('LAZARET_SEED', '7100'))
        for seed in range(seed, seed + 3):
            print(f'station of seed {seed}')
            check_all(Desk(lazaretctl, folder, env, *told_station.make_random(lazaretctl, folder, env, seed)))
        path = os.path.join(folder, 'demo.lazaret')
        told_station.run(lazaretctl, path, 'demo', env)
        now = datetime.now(timezone.utc)
        check_all(Desk(lazaretctl, folder, env, path, now.strftime('%Y-%m-%d %H:%M')))
        # before the first round of the day, between a dose and the next reading, and after the last
        yesterday = now - timedelta(days=1)
        for hour in (6, 12, 20):
            check_handover(Desk(lazaretctl, folder, env, path, yesterday.strftime(f'%Y-%m-%d {hour:02}:00')))
    print(f'{100 * (checks - failures) // checks}%: Checks: {checks}, Failures: {failures}, Errors: 0')
    sys.exit(failures > 0)


main(sys.argv[1])
