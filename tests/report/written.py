# SPDX-License-Identifier: GPL-3.0-or-later
# How sheets write figures.
import re

from ledger_reader import DAY


# A suspect reading is printed in brackets.
def reading(row, form='.3f'):
    text = f'{row["value"]:{form}}'
    return f'({text})' if row['suspect'] else text


def grouped(text):
    whole, dot, rest = text.partition('.')
    return re.sub(r'(?<=\d)(?=(\d{3})+$)', ' ', whole) + dot + rest


def short(value, decimals=1):
    text = f'{value:.{decimals}f}'
    return grouped(text.rstrip('0').rstrip('.') if '.' in text else text)


# A half in decimal is a little more or less in binary, after sums in another order.
def whole(value):
    return short(value - 1e-6, 0), short(value + 1e-6, 0)


def printed(store, row):
    return store.stamp(row['happened_min']) + ('*' if row['corrects'] else '')


# 9 h 5 min as sheets shorten it: whole hours from a day on.
def span(minutes):
    days, hours = minutes // DAY, minutes % DAY // 60
    if days:
        return f'{days} d' + (f' {hours} h' if hours else '')
    return f'{hours} h' + (f' {minutes % 60} min' if minutes % 60 else '')
