# SPDX-License-Identifier: GPL-3.0-or-later
# The station that check_figures.py prints: two waters in a hold, one part-lot, entries corrected and taken
# away, bottles that run out, a late and a dead fish. All of it is invented.
import os
import random
import subprocess

AT = '2027-03-09 17:32'

PROTOCOL = '''[protocol]
name=House
version=1
source=invented for a test
[phase 1]
name=Hold
kind=hold
place=role
role=treatment
min_credit_min=20160
sighting_to=1
[phase 1 band 1]
analyte=copper
form=ionic
side=at_or_above
works=0.18
target=0.19
plan=0.21
harm=0.25
gap_min=960
'''

SETUP = '''
system name=Blue-1 volume_l=1000 role=treatment
system name=Blue-2 volume_l=500 role=treatment
system name=Gold-1 volume_l=800 role=finishing
tank system=Blue-1 number=1
tank system=Blue-1 number=2
tank system=Blue-1 number=3
tank system=Blue-2 number=1
tank system=Gold-1 number=1
instrument name=P1 method=photometer sees=all error_abs=0.01
instrument name=P2 method=photometer sees=all error_abs=0.01
instrument name=T1 method=thermometer
species name='Zebrasoma flavescens'
supplier name='Reef House' country=Belize
customer reference=C-33 place=Westerhafen
bottle name=C-07 analyte=copper form=ionic strength=1.00 strength_as=metal batch=LOT-26A expiry=2027-12-31 volume_ml=900 reorder_ml=500
bottle name=C-08 analyte=copper form=ionic strength=1.00 strength_as=metal batch=LOT-26B volume_ml=100 reorder_ml=150
shipment --happened '2027-03-01 06:00' code=S-1 supplier='Reef House' country=Belize expected_heads=60 boxes=2
shipment --happened '2027-03-08 06:00' code=S-2 due='2027-03-11 10:00' expected_heads=45
lot --happened '2027-03-01 08:00' code=A tank=Blue-1/1 heads=30 invoiced=33 dead_on_arrival=2 weak=3 box=1 shipment=S-1 species='Zebrasoma flavescens'
lot --happened '2027-03-01 08:00' code=B tank=Blue-1/2 heads=12 invoiced=12 dead_on_arrival=0 box=1 shipment=S-1 species='Zebrasoma flavescens'
lot --happened '2027-03-01 08:30' code=C tank=Blue-2/1 heads=20 invoiced=22 dead_on_arrival=1 box=2 shipment=S-1 species='Zebrasoma flavescens'
lot --happened '2027-03-01 08:30' code=FAR tank=Gold-1/1 heads=5
lot --happened '2027-03-01 08:35' code=D tank=Gold-1/1 heads=4 invoiced=3 dead_on_arrival=0 shipment=S-1
course --happened '2027-03-01 08:40' lot=A protocol=House
course --happened '2027-03-01 08:40' lot=B protocol=House
course --happened '2027-03-01 08:40' lot=C protocol=House
reading --happened '2027-03-01 08:45' system=Blue-1 analyte=copper value=0.00 instrument=P1
reading --happened '2027-03-01 08:50' system=Blue-2 analyte=copper value=0.00 instrument=P1
'''

# water, minute, mL of C-07: the third is typed wrong and corrected below
DOSES = [('Blue-1', '2027-03-01 09:05', 188), ('Blue-2', '2027-03-01 09:10', 94.5),
         ('Blue-1', '2027-03-04 09:05', 41), ('Blue-1', '2027-03-06 08:00', 2.5),
         ('Blue-2', '2027-03-09 08:00', 9)]


def run(lazaretctl, station, words, env, status=0):
    done = subprocess.run(f"'{lazaretctl}' '{station}' {words}", shell=True, env=env, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    assert done.returncode == status, f'{words}: {done.stdout}'
    return done.stdout


def begin(lazaretctl, folder, env, name):
    station = os.path.join(folder, name)

    def record(words):
        return run(lazaretctl, station, f'record {words} --who MK', env)

    run(lazaretctl, station, "new --name 'Test station' --zone Europe/Berlin --slots '07:30 17:00' "
        "--person 'Mira Kessel' --initials MK", env)
    open(os.path.join(folder, 'house.protocol'), 'w', encoding='utf-8').write(PROTOCOL)
    run(lazaretctl, station, f"protocol --who MK '{folder}/house.protocol'", env)
    for line in SETUP.strip().splitlines():
        record(line)
    return station, record


def take(lazaretctl, station, folder, env, table, rows):
    csv = os.path.join(folder, table + '.csv')
    open(csv, 'w', encoding='utf-8').write('\r\n'.join(rows) + '\r\n')
    run(lazaretctl, station, f"import {table} '{csv}' --who MK", env)


# The same waters and lots with days of chance: readings about the band, doses, changes, losses, parts, in the
# order of time. What a gate stops stays out. Returns the moment at which it is to be looked at, too.
def make_random(lazaretctl, folder, env, seed):
    chance = random.Random(seed)
    station, record = begin(lazaretctl, folder, env, f'random-{seed}.lazaret')
    doses = 0

    def maybe(share, at, words):
        return chance.random() < share and subprocess.run(
            f"'{lazaretctl}' '{station}' record {words} --who MK --happened '{at}'", shell=True, env=env,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0

    last = chance.randint(4, 9)
    for day in range(1, last + 1):
        for hour in (9, 13, 17):
            for water, litres in (('Blue-1', 1000), ('Blue-2', 500)):
                at, level = f'2027-03-{day:02} {hour:02}', chance.uniform(0.15, 0.2)
                maybe(0.8, f'{at}:{chance.randint(0, 20):02}',
                      f'reading system={water} analyte=copper value={level:.3f} instrument=P1')
                maybe(0.3, f'{at}:25', f'reading system={water} analyte=temperature value={chance.uniform(24, 27):.1f} instrument=T1')
                maybe(0.25, f'{at}:30', f"change system={water} litres={chance.randint(1, 15) * 10} disposal='to waste'")
                doses += maybe(0.6, f'{at}:4{chance.randint(0, 9)}',
                               f'dose system={water} bottle=C-07 amount_ml={max(0.5, (0.19 - level) * litres):.1f}')
            maybe(0.15, f'2027-03-{day:02} {hour:02}:50', f'death lot={chance.choice("ABC")} heads=1 cause=thin disposal=burnt')
    assert doses > 2, f'seed {seed}: no doses'
    maybe(1, f'2027-03-02 10:{chance.randint(10, 59)}', f'split lot=A code=A2 heads={chance.randint(1, 9)} tank=Blue-1/3')
    maybe(0.7, f'2027-03-{chance.randint(2, 3):02} 11:{chance.randint(10, 59)}', f'sighting system=Blue-{chance.randint(1, 2)} sign={chance.choice(("white_spot", "flashing"))} heads=1')
    maybe(1, f'2027-03-03 08:{chance.randint(10, 59)}', f'count lot=B heads={chance.randint(8, 14)}')
    return station, f'2027-03-{last:02} {chance.choice((12, 15, 18))}:{chance.randint(0, 59):02}'


ODD_AT = '2027-03-29 12:00'


# Lots that die out, go there and back on one day, are split, merged, split again and sold; doses into water
# without fish and in the night in which the clock goes forward.
def make_odd(lazaretctl, folder, env):
    station, record = begin(lazaretctl, folder, env, 'odd.lazaret')
    record("dose --happened '2027-03-01 09:05' system=Blue-1 bottle=C-07 amount_ml=188")
    record("dose --happened '2027-03-01 09:10' system=Blue-2 bottle=C-07 amount_ml=94")
    take(lazaretctl, station, folder, env, 'readings', ['happened,system,analyte,value,instrument'] + [
        f'2027-03-{day:02} {clock},{water},copper,0.190,P1' for day in range(1, 32) for clock in ('07:30', '17:00')
        for water in ('Blue-1', 'Blue-2') if (day, clock) != (1, '07:30')])
    for words in ("move --happened '2027-03-03 09:00' lot=B tank=Blue-2/1",
                  "move --happened '2027-03-03 15:00' lot=B tank=Blue-1/2",
                  "split --happened '2027-03-04 10:00' lot=A code=A2 heads=5 tank=Blue-1/3",
                  "death --happened '2027-03-05 10:00' lot=C heads=20 cause=heater disposal=burnt",
                  "dose --happened '2027-03-06 09:00' system=Blue-2 bottle=C-07 amount_ml=3 --reason 'kept ready'",
                  "merge --happened '2027-03-07 09:00' lot=A2 into=B",
                  "split --happened '2027-03-08 09:00' lot=B code=B2 heads=4 tank=Blue-1/3",
                  "release --happened '2027-03-21 09:00' lot=B2 customer=C-33 document=DN-7 --reason 'sold'",
                  "dose --happened '2027-03-28 01:30' system=Blue-1 bottle=C-07 amount_ml=2",
                  "note --happened '2028-01-01 09:00' system=Blue-1 words='in the future'"):
        record(words)
    return station


def make(lazaretctl, folder, env):
    station, record = begin(lazaretctl, folder, env, 'told.lazaret')
    rows = ['happened,system,analyte,value,instrument']
    for day in range(1, 10):
        for clock, shift in (('07:30', 0), ('17:00', 1)):
            if (day, shift) in ((1, 0), (7, 1)):  # the evening test of the seventh was missed
                continue
            rows.append(f'2027-03-{day:02} {clock},Blue-1,copper,{0.188 + 0.003 * (day % 3):.3f},P1')
            rows.append(f'2027-03-{day:02} {clock},Blue-1,temperature,{25 + 0.1 * (day % 4):.1f},T1')
            low = 0.172 if (day, shift) == (9, 0) else 0.186 + 0.002 * (day % 2)
            rows.append(f'2027-03-{day:02} {clock},Blue-2,copper,{low:.3f},P1')
    for water, at, ml in DOSES[:2]:
        record(f"dose --happened '{at}' system={water} bottle=C-07 amount_ml={ml}")
    take(lazaretctl, station, folder, env, 'readings', rows)
    record("change --happened '2027-03-04 09:00' system=Blue-1 litres=200 disposal='treated waste tank'")
    for water, at, ml in DOSES[2:]:
        record(f"dose --happened '{at}' system={water} bottle=C-07 amount_ml={ml} computed_ml={ml}")
    record("split --happened '2027-03-03 10:00' lot=A code=A2 heads=5 tank=Blue-1/3")
    record("death --happened '2027-03-02 11:00' lot=B heads=1 cause=thin disposal='cold store'")
    record("death --happened '2027-03-06 11:00' lot=A heads=3 cause=bent disposal=burnt")
    record("death --happened '2027-03-09 10:00' lot=C heads=2 cause=gasping disposal=burnt")
    record("death --happened '2027-03-07 10:00' lot=FAR heads=1 cause='typed into the wrong lot'")
    record("count --happened '2027-03-05 12:00' lot=B heads=10")
    record("sighting --happened '2027-03-01 18:00' system=Blue-2 lot=C sign=flashing heads=1")
    record("stock --happened '2027-03-02 13:00' bottle=C-07 change_ml=250 why=delivered words=INV-10")
    record("stock --happened '2027-03-02 14:00' bottle=C-07 change_ml=-40 why=disposed words='to the pharmacy'")
    record("stock --happened '2027-03-05 14:00' bottle=C-07 change_ml=-300 why=spilled words='bottle fell'")
    record("check --happened '2027-03-08 09:00' instrument=P2 ok=no")
    correct(station, record)
    return station


# The dose of the fourth was 40 mL; one fish less had died on the sixth; nobody had in FAR.
def correct(station, record):
    import sqlite3
    db = sqlite3.connect(f'file:{station}?mode=ro', uri=True)
    dose = db.execute('SELECT id FROM dose WHERE amount_ml = 41').fetchone()[0]
    death = db.execute("SELECT id FROM death WHERE cause = 'bent'").fetchone()[0]
    wrong = db.execute("SELECT id FROM death WHERE cause LIKE 'typed into%'").fetchone()[0]
    record(f"dose --corrects {dose} --reason misread --happened '2027-03-04 09:05' system=Blue-1 bottle=C-07 "
           "amount_ml=40 computed_ml=40")
    record(f"death --corrects {death} --reason miscounted --happened '2027-03-06 11:00' lot=A heads=2 cause=bent "
           "disposal=burnt")
    record(f"death --corrects {wrong} --void --reason 'wrong lot'")
