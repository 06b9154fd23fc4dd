# SPDX-License-Identifier: GPL-3.0-or-later
# The keeper of follow_plan.py on a worse day, to be run by hand: late, away for a day, doing half of
# a list, entering late, slipping by ten and correcting, dosing the new water before the change,
# splitting, merging, losing fish and seeing spots. Beside what follow_plan.py reports, a lot that is
# released though its water did not truly hold copper for its course.
# A dose that was listed before a test of the same visit may be asked about; that is no fault.
# usage: careless_keeper.py LAZARETCTL [FOLDER]   with LAZARET_SEED, LAZARET_STATIONS, LAZARET_DAYS;
# FOLDER keeps each station and a log of its entries
import csv
import datetime
import io
import os
import re
import sys
import tempfile

import follow_plan

# protocol: mg/L and days that its hold asks for, a tenth below: readings err
LEAST = {'Complexed copper with lowered salinity': (0.42, 14), 'Ionic copper': (0.14, 14)}
MINUTE = datetime.timedelta(minutes=1)


class Careless(follow_plan.Keeper):
    def __init__(self, *args):
        self.truth, self.log, self.touched, self.places = {}, [], {}, {}
        self.slipped, self.parts = datetime.datetime.min, 0
        super().__init__(*args)

    def pass_time(self, to):
        while self.now < to:
            end = min(to, self.now + 60 * MINUTE)
            for name, water in self.waters.items():
                self.truth.setdefault(name, []).append((self.now, end, water.level.get('copper', 0)))
            super().pass_time(end)

    def find(self, what):
        if 'asked again' not in what or self.now > self.slipped + 30 * MINUTE:
            super().find(what)

    def enter(self, *words):
        status, out, error = self.call('record', *words)
        self.log.append(f'{self.now:%m-%d %H:%M} [{status}] {" ".join(words)} {error.strip()[:300]}')
        return status, out, error

    def receive(self, lot):
        super().receive(lot)
        rows = csv.DictReader(io.StringIO(self.call('export', 'lot')[1]))
        tank = next(row['tank'] for row in rows if row['code'] == lot)
        self.places[lot] = [(self.now, tank.split('/')[0])]

    # Late by some minutes, where nothing was done to the water since.
    def act(self, task, kind, *fields, who='AN'):
        at = self.now
        since = self.touched.get(task['system'], at - 60 * MINUTE)
        if kind in ('reading', 'feed', 'dose', 'change') and since < at - 26 * MINUTE and self.rng.random() < 0.1:
            at -= self.rng.randint(1, 25) * MINUTE
            self.slipped = self.now  # before its dose had mixed, a reading is asked again
        words = (kind, f'--happened={at:%Y-%m-%d %H:%M}', f'--who={who}', *fields)
        status, _, error = self.enter(*words)
        self.touched[task['system']] = self.now
        if status:
            self.find(f'refused: {" ".join(words)}\n  task: {task["task"]}, {task["because"]}\n  {error.strip()}')
        elif kind == 'move':
            self.places[task['lot']].append((self.now, fields[1].split('=')[1].split('/')[0]))
        elif kind == 'release':
            self.judge(task['lot'])
        return status == 0

    def judge(self, lot):
        stays = self.places[lot]
        level, days = LEAST.get(self.waters[stays[0][1]].protocol, (0, 0))
        ends = [at for at, _ in stays[1:]] + [self.now]
        hours = sum((to - since).total_seconds() / 3600 for (begin, water), end in zip(stays, ends)
                    for since, to, copper in self.truth[water] if since >= begin and to <= end and copper >= level)
        if days and hours < 0.97 * 24 * days:
            self.find(f'{lot} is released after {hours:.0f} h at {level} mg/L or more')

    def do_test(self, task):
        if self.rng.random() > 0.06:
            return super().do_test(task)
        name, error, digits = follow_plan.METER.get(task['analyte'], (None, 0.01, 2))
        true = self.waters[task['system']].level.get(task['analyte'], 0)
        value = max(0, round(true + self.rng.gauss(0, error), digits))
        fields = [f'system={task["system"]}', f'analyte={task["analyte"]}'] + ([f'instrument={name}'] if name else [])
        at = f'--happened={self.now:%Y-%m-%d %H:%M}'
        slip = round(value * self.rng.choice((10, 0.1, 1.3)), digits)
        status, out, _ = self.enter('reading', at, '--who=AN', *fields, f'value={slip}')
        self.slipped = self.touched[task['system']] = self.now
        if status or self.rng.random() > 0.7:
            return True
        self.pass_time(self.now + self.rng.randint(1, 8) * MINUTE)
        first = re.search(r'\d+', out).group()
        status, _, error = self.enter('reading', at, '--who=AN', f'--corrects={first}', '--reason=slip', *fields, f'value={value}')
        if status:
            self.find(f'a correction is refused: {error.strip()}')
        return True

    def happen(self):
        rows = csv.DictReader(io.StringIO(self.call('plan', f'--at={self.now:%Y-%m-%d %H:%M}', '--format=csv')[1]))
        lots = sorted({row['lot'] for row in rows if row['what'] in ('start', 'served') and row['lot']})
        kind = self.rng.choice(('death', 'sighting', 'split', 'merge'))
        if self.rng.random() > 0.2 or not lots:
            return
        lot, other, water = self.rng.choice(lots), self.rng.choice(lots), self.rng.choice(list(self.waters))
        if kind == 'merge' and other == lot:
            return
        self.parts += kind == 'split'
        part = f'{lot}s{self.parts}'
        fields = {'death': ('heads=1',), 'sighting': ('finding=white spot', 'heads=1'), 'merge': (f'into={other}',),
                  'split': (f'code={part}', 'heads=1', f'tank={water}/{self.rng.randint(1, 4)}')}
        status, _, _ = self.enter(kind, f'--happened={self.now:%Y-%m-%d %H:%M}', '--who=AN', f'lot={lot}', *fields[kind])
        if kind == 'split' and not status:
            self.places[part] = self.places[lot] + [(self.now, water)]

    def live(self, days):
        end = self.now + datetime.timedelta(days=days)
        while self.now < end and len(self.found) < 20:
            tasks = self.tasks()
            due = [t for t in tasks if t['state'] in ('due', 'late') and t['at'] <= self.now]
            if due:
                if self.rng.random() < 0.3:  # the new water is dosed, then changed
                    due.sort(key=lambda t: 'new water' not in t['task'])
                self.work_off(due[:self.rng.randint(1, len(due))] if self.rng.random() < 0.15 else due)
                if self.rng.random() < 0.08:
                    self.pass_time(self.now + self.rng.randint(2, 30) * 60 * MINUTE)
                continue
            ahead = [t['at'] for t in tasks if t['state'] == 'due' and t['at'] > self.now]
            late = self.rng.choice((0, 0, 0, 0, 20, 90, 200)) * MINUTE
            self.pass_time(min(ahead + [self.now + 720 * MINUTE]) + late)
            self.happen()


def main():
    first = int(os.environ.get('LAZARET_SEED', 1))
    stations, days = int(os.environ.get('LAZARET_STATIONS', 1)), int(os.environ.get('LAZARET_DAYS', 20))
    folder = sys.argv[2] if len(sys.argv) > 2 else tempfile.mkdtemp()
    for seed in range(first, first + stations):
        keeper = Careless(sys.argv[1], os.path.join(folder, f'{seed}.lazaret'), seed)
        keeper.live(days)
        with open(os.path.join(folder, f'{seed}.log'), 'w', encoding='utf-8') as log:
            log.write('\n'.join(keeper.log))
        print('\n'.join(keeper.found + [f'seed {seed}: {len(keeper.log)} entries, {len(keeper.found)} found']), flush=True)


if __name__ == '__main__':
    main()
