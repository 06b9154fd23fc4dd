# SPDX-License-Identifier: GPL-3.0-or-later
# A keeper who only does what the plan says: random stations, made and kept through lazaretctl
# alone. Every task that is due is done as it is told, in its order, against waters whose true
# levels are kept here by mass balance (C = mg / L), with losses and with instruments that err. What
# is reported: a task that is refused when done as told, one that is asked again right after it was
# done, two forms of copper in one water, and a true level beyond the highest that is published
# (0.60 mg/L complexed; 0.25 ionic, value from memory), which obedience must never reach.
# usage: follow_plan.py LAZARETCTL     LAZARET_SEED, LAZARET_STATIONS, LAZARET_DAYS set the run
import csv
import datetime
import io
import os
import random
import re
import subprocess
import sys
import tempfile

COPPER = {'amine': 4.0, 'ionic': 1.5, 'chelated': 2.0}  # form: mg/mL of its bottle
BOTTLES = {'praziquantel': 50.0, 'chloroquine': 20.0, 'formalin': 1080.0}
MOST = {'amine': 0.66, 'chelated': 0.66, 'ionic': 0.275}  # a tenth above: reading and loss err
METER = {'copper': ('P1', 0.004, 3), 'salinity': ('C1', 0.08, 1), 'temperature': ('T1', 0.05, 1)}
PROTOCOLS = ('complexed-copper-low-salinity', 'ionic-copper', 'copper-and-flukes', 'flukes', 'formalin-bath',
             'tank-transfer', 'observation', 'lowered-salinity', 'chloroquine', 'medicated-feed')
GEAR = {'UV lamp': 'uv'}


class Water:
    def __init__(self, rng, role):
        self.role, self.litres = role, rng.choice((120, 400, 750, 1500, 2400))
        self.level = {'copper': 0.0, 'salinity': rng.choice((33.0, 34.0, 35.0)), 'temperature': 25.0}
        self.keeps = {'copper': 1 - rng.uniform(0, 0.08), 'chloroquine': 0.85, 'praziquantel': 0.85}
        self.form = self.protocol = None

    def dose(self, analyte, mg):
        self.level[analyte] = self.level.get(analyte, 0) + mg / self.litres

    def change(self, litres, salinity):
        kept = 1 - litres / self.litres
        for analyte in self.level:
            if analyte != 'temperature':
                self.level[analyte] *= kept
        self.level['salinity'] += salinity * (1 - kept)

    def wait(self, days):
        for analyte, keeps in self.keeps.items():
            if analyte in self.level:
                self.level[analyte] *= keeps ** days


class Keeper:
    def __init__(self, lazaretctl, path, seed):
        self.lazaretctl, self.path, self.seed = lazaretctl, path, seed
        self.rng = random.Random(seed)
        self.now = datetime.datetime(2027, 3, 1, 7, 0)
        self.waters, self.found, self.done, self.calls = {}, [], {}, 0
        self.set_up()

    def call(self, *words):
        self.calls += 1
        ran = subprocess.run([self.lazaretctl, self.path, *words], capture_output=True, text=True, timeout=120)
        return ran.returncode, ran.stdout, ran.stderr

    def must(self, *words):
        status, _, error = self.call(*words)
        if status:
            raise SystemExit(f'seed {self.seed}: {" ".join(words)}: {error}')

    def find(self, what):
        self.found.append(f'seed {self.seed}, {self.now:%Y-%m-%d %H:%M}: {what}')

    # --- the station

    def describe(self, kind, *fields):
        self.must('record', kind, '--who=AN', *fields)

    def set_up(self):
        slots = self.rng.choice(('07:30 17:00', '08:00 16:00', '07:00 13:00 19:00', '09:00 21:00'))
        self.must('new', '--name', 'Follow', '--zone', 'UTC', '--person', 'Ann', '--initials', 'AN', '--slots', slots)
        self.describe('person', 'name=Vet', 'initials=VT', 'role=vet')
        roles = ['treatment', 'treatment', 'finishing'] + self.rng.choices(
            ('treatment', 'finishing', 'isolation', 'receiving'), k=self.rng.randint(0, 3))
        for i, role in enumerate(roles):
            water = self.waters[f'W{i + 1}'] = Water(self.rng, role)
            self.describe('system', f'name=W{i + 1}', f'volume_l={water.litres}', f'role={role}')
            for tank in range(1, 5):
                self.describe('tank', f'system=W{i + 1}', f'number={tank}')
        for form, strength in COPPER.items():
            self.describe('bottle', f'name={form}', 'analyte=copper', f'form={form}', f'strength={strength}',
                          'strength_as=metal')
        for medicine, strength in BOTTLES.items():
            self.describe('bottle', f'name={medicine}', f'analyte={medicine}', f'strength={strength}',
                          'prescription=R-1', 'prescriber=VT')
        self.describe('instrument', 'name=P1', 'method=photometer', 'sees=all', 'error_abs=0.01')
        self.describe('instrument', 'name=C1', 'method=conductivity', 'error_abs=0.2')
        self.describe('instrument', 'name=T1', 'method=thermometer', 'error_abs=0.1')
        for protocol in PROTOCOLS:
            self.must('protocol', protocol, '--who=AN')
        self.protocols = [row['name'] for row in csv.DictReader(io.StringIO(self.call('export', 'protocol')[1]))]
        for name in self.protocols:
            self.must('record', 'protocol', '--who=VT', f'--entity={name}/1', f'name={name}', 'version=1',
                      'signed_off=yes')
        for i in range(self.rng.randint(1, 4)):
            self.receive(f'L{i + 1}')

    # Lots that share a water when they come are under one protocol.
    def receive(self, lot):
        at, name = f'--happened={self.now:%Y-%m-%d %H:%M}', self.rng.choice(list(self.waters))
        water = self.waters[name]
        water.protocol = water.protocol or self.rng.choice(self.protocols)
        self.must('record', 'lot', at, '--who=AN', f'code={lot}', f'tank={name}/{self.rng.randint(1, 4)}',
                  f'heads={self.rng.randint(2, 30)}', 'mean_mass_g=12')
        self.must('record', 'course', at, '--who=VT', f'lot={lot}', f'protocol={water.protocol}')

    # --- acts, as the plan tells them

    def act(self, task, kind, *fields, who='AN'):
        words = ('record', kind, f'--happened={self.now:%Y-%m-%d %H:%M}', f'--who={who}', *fields)
        status, _, error = self.call(*words)
        if status:
            self.find(f'refused: {" ".join(words)}\n  task: {task["task"]}, {task["because"]}\n  {error.strip()}')
        return status == 0

    def do_test(self, task):
        analyte = task['analyte']
        name, error, digits = METER.get(analyte, (None, 0.01, 2))
        true = self.waters[task['system']].level.get(analyte, 0)
        value = max(0, round(true + self.rng.gauss(0, error), digits))
        return self.act(task, 'reading', f'system={task["system"]}', f'analyte={analyte}', f'value={value}',
                        *([f'instrument={name}'] if name else []))

    def do_dose(self, task):
        water, bottle = self.waters[task['system']], task['bottle']
        if task['unit'] != 'mL':
            return self.act(task, 'dose', f'system={task["system"]}', f'analyte={task["analyte"]}',
                            f'amount_mg={float(task["amount"]) * 1000:.1f}')
        ml = f'{float(task["amount"]):.1f}'
        into_new = 'new water' in task['task']
        ok = self.act(task, 'dose', f'system={task["system"]}', f'bottle={bottle}', f'amount_ml={ml}',
                      *(['in_new_water=yes'] if into_new else []))
        if ok and bottle in COPPER:
            if water.form not in (None, bottle) and water.level['copper'] > 0.02:
                self.find(f'{bottle} copper into {task["system"]}, which holds {water.form} copper')
            water.form = bottle
        if ok:
            water.dose('copper' if bottle in COPPER else bottle, float(ml) * (COPPER.get(bottle) or BOTTLES[bottle]))
        return ok

    def do_change(self, task):
        litres = round(float(task['amount']), 1)
        water = self.waters[task['system']]
        salinity = 0 if 'fresh' in task['task'] else round(water.level['salinity'], 1)
        ok = self.act(task, 'change', f'system={task["system"]}', f'litres={litres}', f'new_salinity={salinity}',
                      'new_copper=0')
        if ok:
            water.change(litres, salinity)
        return ok

    def do_salt(self, task):
        ok = self.act(task, 'dose', f'system={task["system"]}', f'salt_kg={float(task["amount"]):.3g}')
        if ok:
            self.waters[task['system']].level['salinity'] += float(task['amount']) * 1000 / self.waters[task['system']].litres
        return ok

    def do_gear(self, task):
        verb, what = task['task'].split(': ', 1)
        return self.act(task, 'gear', f'system={task["system"]}', f'gear={GEAR.get(what, what)}',
                        'on=yes' if verb == 'Switch on' else 'on=no')

    def do_bath(self, task):
        ml, litres = re.search(r'([0-9.]+) mL in ([0-9]+) L', task['because']).groups()
        bath = task['task'].split()[-1]
        return self.act(task, 'bath', f'lot={task["lot"]}', f'bath={bath}', f'bottle={bath}', f'litres={litres}',
                        f'amount_ml={ml}', f'minutes={float(task["amount"]):g}', 'temperature=25', 'air=yes')

    def do(self, task):
        by_kind = {'test': self.do_test, 'dose': self.do_dose, 'change': self.do_change, 'salt': self.do_salt,
                   'gear': self.do_gear, 'bath': self.do_bath}
        if task['kind'] in by_kind:
            return by_kind[task['kind']](task)
        lot = f'lot={task["lot"]}'
        plain = {'move': ('move', lot, f'tank={task["tank"]}'), 'release': ('release', lot),
                 'inspect': ('feed', lot, 'eaten_share=0.95'), 'feed': ('feed', lot, 'eaten_share=0.95'),
                 'scrape': ('scrape', lot, 'finding=nothing'), 'sign': ('sign', lot, f'phase={task["phase"]}', 'vet=yes'),
                 'disinfect': ('state', f'system={task["system"]}', 'state=disinfecting'),
                 'fill': ('state', f'system={task["system"]}', 'state=stocked'),
                 'calibrate': ('check', f'instrument={task["instrument"]}', 'ok=yes')}
        if task['kind'] not in plain:
            self.find(f'a task of no kind known here: {task["kind"]}, {task["task"]}')
            return False
        return self.act(task, *plain[task['kind']], who='VT' if task['kind'] == 'sign' else 'AN')

    # --- days

    def pass_time(self, to):
        for name, water in self.waters.items():
            water.wait((to - self.now).total_seconds() / 86400)
            if water.form and water.level['copper'] > MOST[water.form]:
                self.find(f'{name} truly holds {water.level["copper"]:.3f} mg/L of {water.form} copper')
        self.now = to

    def tasks(self):
        status, out, error = self.call('plan', f'--at={self.now:%Y-%m-%d %H:%M}', '--format=csv')
        if status:
            raise SystemExit(f'seed {self.seed}: plan: {error}')
        rows = [row for row in csv.DictReader(io.StringIO(out)) if row['what'] == 'task']
        for row in rows:
            row['at'] = datetime.datetime.strptime(row['when'], '%Y-%m-%dT%H:%MZ')
        return rows

    def work_off(self, due):
        for task in due:
            key = tuple(task[f] for f in ('kind', 'system', 'lot', 'analyte', 'task'))
            before, self.done[key] = self.done.get(key), self.now
            if self.do(task) and before and self.now - before < datetime.timedelta(minutes=15):
                self.find(f'asked again {self.now - before} after it was done: {task["task"]}, {task["because"]}')
            self.pass_time(self.now + datetime.timedelta(minutes=1))

    def live(self, days):
        end = self.now + datetime.timedelta(days=days)
        while self.now < end and len(self.found) < 20:
            tasks = self.tasks()
            due = [t for t in tasks if t['state'] in ('due', 'late') and t['at'] <= self.now]
            if due:
                self.work_off(due)
                continue
            ahead = [t['at'] for t in tasks if t['state'] == 'due' and t['at'] > self.now]
            self.pass_time(min(ahead + [self.now + datetime.timedelta(hours=12)]))


def main():
    first = int(os.environ.get('LAZARET_SEED', 3))
    stations, days = int(os.environ.get('LAZARET_STATIONS', 2)), int(os.environ.get('LAZARET_DAYS', 6))
    calls, found = 0, []
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first, first + stations):
            keeper = Keeper(sys.argv[1], os.path.join(folder, f'{seed}.lazaret'), seed)
            keeper.live(days)
            calls += keeper.calls
            found += keeper.found
    print('\n'.join(found))
    print(f'{stations} stations from seed {first} on, {days} days, {calls} calls, {len(found)} found')
    return 1 if found else 0


if __name__ == '__main__':
    sys.exit(main())
