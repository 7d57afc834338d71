#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""An independent reader of RFC 5545 checks the calendar that Bedline writes.

Nothing but Python's own library: lines unfolded, texts unescaped and rules expanded here, and the
days compared with Bedline's own list over eight years.
"""
import datetime
import os
import re
import subprocess
import sys

DUMP = sys.argv[1]
number = failed = 0


def check(name, problem):
    global number, failed
    number += 1
    failed += bool(problem)
    print(f'{"not ok" if problem else "ok"} {number} {name}')
    if problem:
        print(f'# {problem}')


def lines_of(data):
    """RFC 5545 section 3.1: CRLF ends a line; CRLF and a blank continue one."""
    assert data.endswith(b'\r\n') and b'\n' not in data.replace(b'\r\n', b'')
    raw = data.split(b'\r\n')[:-1]
    longest = max(len(line) for line in raw)
    for line in raw:
        line.decode('utf-8')  # a fold within a character would fail here
    return data.replace(b'\r\n ', b'').replace(b'\r\n\t', b'').decode('utf-8').split('\r\n')[:-1], longest


def unescape(text):
    return re.sub(r'\\([\\;,nN])', lambda m: '\n' if m[1] in 'nN' else m[1], text)


def components(lines):
    stack, top = [], None
    for line in lines:
        head, _, value = line.partition(':')
        name, *params = head.split(';')
        if name == 'BEGIN':
            stack.append({'name': value, 'props': [], 'parts': []})
        elif name == 'END':
            done = stack.pop()
            assert done['name'] == value, line
            if stack:
                stack[-1]['parts'].append(done)
            else:
                top = done
        else:
            stack[-1]['props'].append((name, dict(p.split('=', 1) for p in params), value))
    assert not stack and top is not None
    return top


def prop(part, name):
    found = [(params, value) for n, params, value in part['props'] if n == name]
    assert len(found) <= 1, f'{name} given twice'
    return found[0] if found else (None, None)


def date(text):
    return datetime.date(int(text[0:4]), int(text[4:6]), int(text[6:8]))


def expand(start, rule, last):
    """Only what is written: yearly, and daily with an interval and an end."""
    if rule is None:
        return [start]
    parts = dict(p.split('=') for p in rule.split(';'))
    days = []
    if parts['FREQ'] == 'YEARLY':
        assert set(parts) == {'FREQ'}
        for year in range(start.year, last.year + 1):
            try:
                days.append(start.replace(year=year))
            except ValueError:  # 29 February: the rule skips the year
                pass
    else:
        assert set(parts) | {'INTERVAL'} == {'FREQ', 'INTERVAL', 'UNTIL'} and parts['FREQ'] == 'DAILY'
        assert len(parts['UNTIL']) == 8, 'UNTIL has the type of DTSTART'
        day = start
        while day <= date(parts['UNTIL']):
            days.append(day)
            day += datetime.timedelta(int(parts.get('INTERVAL', 1)))
    return days


def faults(events):
    seen = set()
    for event in events:
        _, uid = prop(event, 'UID')
        if not uid or uid in seen:
            yield f'UID {uid} is missing or used twice'
        seen.add(uid)
        if not re.fullmatch(r'\d{8}T\d{6}Z', prop(event, 'DTSTAMP')[1] or ''):
            yield f'{uid}: DTSTAMP is not UTC'
        params, start = prop(event, 'DTSTART')
        _, end = prop(event, 'DTEND')
        if params != {'VALUE': 'DATE'} or date(end) <= date(start):
            yield f'{uid}: DTSTART {params} {start}, DTEND {end}'
        for alarm in event['parts']:
            if alarm['name'] != 'VALARM' or prop(alarm, 'ACTION')[1] != 'DISPLAY' \
                    or prop(alarm, 'TRIGGER')[1] != '-P1D' or prop(alarm, 'DESCRIPTION')[1] is None:
                yield f'{uid}: the alarm is not one shown the day before'
        if len(event['parts']) != 1:
            yield f'{uid}: {len(event["parts"])} alarms'


def run(scene):
    ics, _, listed = subprocess.run([DUMP, scene], check=True, stdout=subprocess.PIPE).stdout.partition(b'--------\n')
    lines, longest = lines_of(ics)
    check(f'{scene}: no line is longer than 75 octets', longest > 75 and f'{longest} octets')
    calendar = components(lines)
    events = calendar['parts']
    head = {name: value for name, _, value in calendar['props']}
    check(f'{scene}: the calendar says who wrote it and in which version',
          (head.get('VERSION') != '2.0' or not head.get('PRODID')) and str(head))
    check(f'{scene}: events are whole', '; '.join(list(faults(events))[:3]))
    first, *ours = listed.decode('utf-8').splitlines()
    last = datetime.date(int(first) + 8, 12, 31)
    theirs = sorted(f'{day.isoformat()}\t{unescape(prop(e, "SUMMARY")[1])}' for e in events
                    for day in expand(date(prop(e, 'DTSTART')[1]), prop(e, 'RRULE')[1], last) if day <= last)
    wrong = sorted(set(ours) ^ set(theirs)) or len(ours) != len(theirs)
    check(f'{scene}: {len(ours)} days, the same as our own list', wrong and str(wrong)[:300])
    places = {unescape(value) for e in events for name, _, value in e['props'] if name == 'LOCATION'}
    check(f'{scene}: signs and letters come back', places != {'Größe, „Nord“; \\ strip'} and str(places))


def same_everywhere(scene):
    """Whole days have no hour that a clock change could move: the same file in any time zone."""
    texts = set()
    for zone in ('UTC', 'America/New_York', 'Australia/Lord_Howe', 'Pacific/Apia', 'America/Sao_Paulo'):
        texts.add(subprocess.run([DUMP, scene], check=True, stdout=subprocess.PIPE,
                                 env=dict(os.environ, TZ=zone)).stdout)
    check(f'{scene}: the same in zones with and without daylight saving', len(texts) != 1 and 'they differ')
    ics = texts.pop().partition(b'--------\n')[0]
    lines, _ = lines_of(ics)
    days = [line for line in lines if line.split(':')[0].split(';')[0] in ('DTSTART', 'DTEND')]
    timed = [line for line in days if 'VALUE=DATE' not in line or 'TZID' in line or 'T' in line.rsplit(':', 1)[1]]
    check(f'{scene}: {len(days)} starts and ends are whole days', (timed or not days) and str(timed[:3]))


def clock_changes():
    """Spring and autumn tasks span the Sundays on which clocks change in the United States (second of
    March, first of November) and Australia (first of April and of October) and count each day once."""
    for scene, months in (('north', (3, 11)), ('south', (4, 10))):
        ics = subprocess.run([DUMP, scene], check=True, stdout=subprocess.PIPE).stdout.partition(b'--------\n')[0]
        events = components(lines_of(ics)[0])['parts']
        over = 0
        for event in events:
            first, end = date(prop(event, 'DTSTART')[1]), date(prop(event, 'DTEND')[1])
            changes = [datetime.date(y, m, d) for y in range(first.year, end.year + 1) for m in months
                       for d in range(1, 15) if datetime.date(y, m, d).weekday() == 6]
            over += any(first <= day < end for day in changes)
        check(f'{scene}: {over} events lie over a change of clocks', not over and 'none')


def import_into(store, ics):
    """A calendar program: RFC 5545 section 3.8.4.7 makes the UID the one name of an event."""
    for event in components(lines_of(ics)[0])['parts']:
        store[prop(event, 'UID')[1]] = prop(event, 'SUMMARY')[1]


def reimported():
    """The design gets another title and is exported again: the same events are updated, none comes twice; another
    design's stand beside them."""
    def ics_of(*args):
        return subprocess.run([DUMP, *args], check=True, stdout=subprocess.PIPE).stdout.partition(b'--------\n')[0]

    store, first = {}, ics_of('north')
    import_into(store, first)
    before = dict(store)
    import_into(store, ics_of('north', 'Another name altogether'))
    check(f'renamed: {len(before)} events, none twice', store != before and f'{len(store)} events')
    import_into(store, first.replace(b'5eed0f7a1e3b9c24', b'0ther'))
    check('renamed: another design keeps its own', len(store) != 2 * len(before) and f'{len(store)} events')


reimported()
for name in ('north', 'south', 'leap'):
    run(name)
    same_everywhere(name)
clock_changes()
print(f'1..{number}')
sys.exit(bool(failed))
