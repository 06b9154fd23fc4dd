# SPDX-License-Identifier: GPL-3.0-or-later
# What a station's file says, read by SQLite alone: entries in force, fish in a water, bottles, levels by
# mass balance and time served. It shares no line with the program.
import functools
import sqlite3
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

DAY = 1440
PARASITES = 'white_spot', 'velvet', 'fluke', 'cryptocaryon', 'amyloodinium', 'brooklynella', 'uronema'


class Store:
    def __init__(self, path, at):
        self.db = sqlite3.connect(f'file:{path}?mode=ro', uri=True)
        self.db.row_factory = sqlite3.Row
        self.zone = ZoneInfo(self.db.execute('SELECT zone FROM station ORDER BY id').fetchone()[0])
        self.now = self.minute(at)
        self.who = {r['person']: r['initials'] for r in self.db.execute('SELECT * FROM identity')}

    def minute(self, stamp):
        return int(datetime.fromisoformat(stamp).replace(tzinfo=self.zone).timestamp()) // 60

    def local(self, minute):
        return (datetime(1970, 1, 1, tzinfo=timezone.utc) + timedelta(minutes=minute)).astimezone(self.zone)

    def stamp(self, minute):
        return f'{self.local(minute):%Y-%m-%d %H:%M}'

    # In force: of the versions of one fact the last one entered, unless that takes it away.
    @functools.cache
    def facts(self, kind):
        versions = {}
        for row in self.db.execute(f'SELECT e.*, k.* FROM entry e JOIN "{kind}" k ON k.id = e.id ORDER BY e.id'):
            versions[row['corrects'] or row['id']] = row
        rows = [r for r in versions.values() if not r['voided'] and r['happened_min'] <= self.now]
        return sorted(rows, key=lambda r: (r['happened_min'], r['id']))

    # Set-up: the last description of each thing, by the id of its first.
    @functools.cache
    def things(self, kind):
        out = {}
        for row in self.db.execute(f'SELECT e.*, k.* FROM entry e JOIN "{kind}" k ON k.id = e.id ORDER BY e.id'):
            out[row['entity'] or row['corrects'] or row['id']] = row
        return out

    def name(self, kind, key):
        row = self.things(kind).get(key)
        return row['name'] if row else ''

    def tank_name(self, key):
        tank = self.things('tank')[key]
        return f'{self.name("system", tank["system"])}/{tank["number"]}'

    # Every lot by id: [(from, system, tank)], fish that came, code. A part begins where it was split off.
    @functools.cache
    def lots(self):
        tanks, lots = self.things('tank'), {}
        for row in self.facts('lot'):
            lots[row['corrects'] or row['id']] = dict(row, way=[(row['happened_min'], row['tank'])], parent=None)
        for row in self.facts('split'):
            key = row['corrects'] or row['id']
            parent = lots[row['lot']]
            tank = row['tank'] or parent['way'][-1][1]
            lots[key] = dict(row, way=[(row['happened_min'], tank)], parent=row['lot'])
        for row in self.facts('move'):
            lots[row['lot']]['way'].append((row['happened_min'], row['tank']))
        for key, lot in lots.items():
            lot['key'] = key
            lot['way'] = [(at, tanks[tank]['system'], tank) for at, tank in sorted(lot['way'])]
        for row in self.facts('release'):
            lots[row['lot']]['gone'] = row['happened_min']
        for row in self.facts('merge'):
            lots[row['lot']]['gone'] = row['happened_min'] - 1  # in that minute they stand there as the other lot
            lots[row['lot']]['into'] = row['into']
            lots[row['into']].setdefault('joined', []).append((row['happened_min'], row['lot']))
        return lots

    # Whose record tells that fish of this lot were in the water at that minute: the lot itself, the one that
    # it was taken off, one that joined it. And whether all of its fish were. None = they were not.
    def had(self, key, at, system):
        lot = self.lots()[key]
        if at >= lot['way'][0][0] and self.stood(lot, at) == system and self.fish(self.lots(), key, at) > 0:
            return key, True
        if lot['parent'] and at < lot['happened_min']:
            found = self.had(lot['parent'], at, system)
            if found:
                return found
        for when, other in lot.get('joined', ()):
            found = self.had(other, at, system) if at < when else None
            if found:
                return found[0], False
        return None

    def fish(self, lots, key, at):
        heads, start = lots[key]['heads'], lots[key]['way'][0][0]
        for row in sorted(self.facts('death') + self.facts('count') + self.facts('split') + self.facts('merge'),
                          key=lambda r: (r['happened_min'], r['id'])):
            if not start <= row['happened_min'] <= at:
                continue
            if row['kind'] == 'merge':
                heads += self.fish(lots, row['lot'], row['happened_min']) if row['into'] == key else 0
            elif row['lot'] == key:
                heads = row['heads'] if row['kind'] == 'count' else heads - row['heads']
        return heads

    # Once all are dead it stands nowhere. (A lot that is not there yet has those that are to come.)
    @functools.cache
    def living(self, key, at):
        return self.fish(self.lots(), key, at) > 0

    def stood(self, lot, at):
        if at > lot.get('gone', at) or not self.living(lot['key'], at):
            return None
        here = [s for when, s, _ in lot['way'] if when <= at]
        return here[-1] if here else None

    # (minute, water) where a parasite was seen or found, or where nobody said what was seen. Other signs send
    # no lot back.
    def parasites(self):
        seen = [(r['happened_min'], r['system']) for r in self.facts('sighting') if r['sign'] in (None, *PARASITES)]
        return seen + [(r['happened_min'], self.stood(self.lots()[r['lot']], r['happened_min']))
                       for r in self.facts('scrape') if r['finding'] in PARASITES]

    # Day one of the lot's course: of the last one it was put under, or the last sighting in its water since.
    # None = it never was under one. A part has what the lot had that it comes from.
    def day_one(self, key, at):
        lot = self.lots()[key]
        begun = [r['happened_min'] for r in self.facts('course')
                 if r['lot'] == key and r['happened_min'] <= at and not r['keep']]
        if lot['parent'] and not begun:
            begun = [m for m in [self.day_one(lot['parent'], lot['happened_min'])] if m is not None]
        seen = [when for when, system in self.parasites() if when <= at and self.stood(lot, when) == system]
        return max(begun + [m for m in seen if m > begun[-1]]) if begun else None

    # 1 = the day itself, by the calendar of the station.
    def day_number(self, first, at):
        return (self.local(at).date() - self.local(first).date()).days + 1

    def only_house(self):
        return {row['name'] for row in self.things('protocol').values()} == {'House'}

    def mg_per_ml(self, bottle):
        return self.things('bottle')[bottle]['strength']  # strength_as=metal in the stations read here

    # opened, in, given, thrown, lost, left
    def bottle(self, key):
        opened = self.things('bottle')[key]['volume_ml']
        stock = [r for r in self.facts('stock') if r['bottle'] == key]
        given = sum(r['amount_ml'] or 0 for r in self.facts('dose') if r['bottle'] == key)
        come = sum(max(0, r['change_ml']) for r in stock)
        thrown = -sum(min(0, r['change_ml']) for r in stock if r['why'] == 'disposed')
        lost = -sum(min(0, r['change_ml']) for r in stock if r['why'] != 'disposed')
        return opened, come, given, thrown, lost, opened + come - given - thrown - lost

    def readings(self, system, analyte):
        return [r for r in self.facts('reading') if r['system'] == system and r['analyte'] == analyte]

    # Those that bear witness: one in doubt does when a reading that confirms it is on record.
    def believed(self, system, analyte):
        all = self.readings(system, analyte)
        confirmed = {r['confirms'] for r in all}
        return [r for r in all if not r['suspect'] or (r['corrects'] or r['id']) in confirmed]

    # What was done to the copper of a water, as c * keep + added, by time.
    def doings(self, system):
        litres, out = self.things('system')[system]['volume_l'], []
        for r in self.facts('change'):
            if r['system'] == system:
                share = r['litres'] / litres
                out.append((r['happened_min'], r['id'], 1 - share, share * (r['new_copper'] or 0)))
        for r in self.facts('dose'):
            if r['system'] == system and r['bottle']:
                added = (r['amount_ml'] or 0) * self.mg_per_ml(r['bottle']) / litres
                out.append((r['happened_min'], r['id'], 1, added))
        return sorted(out)

    # Exact mass balance from the last reading before: right after what was done in that minute.
    def carried(self, system, at):
        past = [r for r in self.believed(system, 'copper') if r['happened_min'] < at]
        if not past:
            return None
        level = past[-1]['value']
        for when, _, keep, added in self.doings(system):
            if past[-1]['happened_min'] <= when <= at:
                level = level * keep + added
        return level

    # Minutes from `start` on that earn under a band of copper at or above `works`, by docs/engine/credit.md:
    # last reading at most `gap` old and good, it carried forward good, the next one carried back good.
    def served(self, system, start, works, gap):
        readings, doings, earned = self.readings(system, 'copper'), self.doings(system), 0
        for minute in range(start, self.now):
            past = [r for r in readings if r['happened_min'] <= minute]
            if not past or past[-1]['value'] < works or minute > past[-1]['happened_min'] + gap:
                continue
            forward = past[-1]['value']
            for when, _, keep, added in doings:
                if past[-1]['happened_min'] <= when <= minute:
                    forward = forward * keep + added
            later = [r for r in readings if r['happened_min'] > minute]
            back = later[0]['value'] if later else works
            for when, _, keep, added in reversed(doings):
                if later and minute < when <= later[0]['happened_min']:
                    back = (back - added) / keep
            earned += forward >= works and back >= works
        return earned
