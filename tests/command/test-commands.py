#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The command line on the demo's sheet: every command, the truth of the measured area, bad input."""
import csv
import io
import json
import os
import pathlib
import re
import shutil
import sqlite3
import struct
import subprocess
import sys
import tempfile
import zlib

BEDLINE, ROOT = sys.argv[1], pathlib.Path(sys.argv[2])
DEMO = ROOT / 'data' / 'demo'
SHEET = DEMO / 'harbour-lane.sheet.json'
WORK = pathlib.Path(tempfile.mkdtemp(prefix='bedline-'))
FILE = WORK / 'demo.bedline'
ENV = dict(os.environ, XDG_DATA_HOME=str(WORK / 'xdg'), DISPLAY='', WAYLAND_DISPLAY='')
checks = []


def check(function):
    checks.append(function)
    return function


def run(*args, status=0, env=ENV):
    done = subprocess.run([BEDLINE, *map(str, args)], capture_output=True, env=env, timeout=120)
    out, err = done.stdout.decode(), done.stderr.decode()
    expected = status if isinstance(status, tuple) else (status,)
    assert done.returncode in expected, f'{args}: exit {done.returncode}, {err.strip()} {out[-300:]}'
    return out, err


def refuse(*args, says):
    """Exit status 2 and one clear sentence; @says must be in it."""
    out, err = run(*args, status=2)
    lines = [line for line in err.splitlines() if line.strip()]
    assert len(lines) == 1, f'{args}: not one sentence: {err!r}'
    assert re.search(says, lines[0]), f'{args}: {lines[0]!r} does not say {says!r}'
    assert out == '', out


def sheet():
    return json.loads(SHEET.read_text())


def write_sheet(name, data):
    path = WORK / name
    path.write_text(data if isinstance(data, str) else json.dumps(data))
    if not (WORK / 'harbour-lane.jpg').exists():
        shutil.copy(DEMO / 'harbour-lane.jpg', WORK)
    return path


@check
def draft_builds_a_design_file():
    run('draft', SHEET, '-o', FILE)
    assert FILE.stat().st_size > 100_000
    with sqlite3.connect(f'file:{FILE}?mode=ro', uri=True) as db:
        assert db.execute('pragma application_id').fetchone()[0] == 0x42444C4E
        assert db.execute('pragma page_size').fetchone()[0] == 16384


@check
def measure_finds_the_truth():
    """The rendered scene's own polygon is the truth: within 2 %, and inside the 95 % interval."""
    truth = json.loads((DEMO / 'harbour-lane.truth.json').read_text())
    got = json.loads(run('measure', FILE, '--json')[0])
    true_area = truth['bed']['area_m2']
    bed = got['beds'][0]
    assert abs(bed['area_m2'] / true_area - 1) < 0.02, (bed, true_area)
    assert abs(bed['area_m2'] - true_area) < 1.96 * bed['area_sd_m2'], (bed, true_area)
    true_line = truth['bed']['perimeter_m']
    assert abs(bed['perimeter_m'] / true_line - 1) < 0.02, (bed, true_line)
    assert got['camera']['residual_rms_px'] < 2
    assert abs(got['camera']['height_m'] / truth['camera_position_m'][2] - 1) < 0.03, got['camera']
    for length in got['lengths']:
        assert length['sd_m'] > 0


@check
def measure_takes_a_sheet_too():
    a = json.loads(run('measure', SHEET, '--json')[0])
    b = json.loads(run('measure', FILE, '--json')[0])
    assert a == b
    assert '±' in run('measure', FILE)[0]


@check
def sheet_survives_the_round_trip():
    first = run('sheet', FILE)[0]
    path = write_sheet('again.json', first)
    run('draft', path, '-o', WORK / 'again.bedline')
    second = run('sheet', WORK / 'again.bedline')[0]
    assert first == second
    run('sheet', FILE, '-o', WORK / 'out.json')
    assert (WORK / 'out.json').read_text() == first


@check
def takeoff_adds_up():
    for name in 'ABC':
        got = json.loads(run('takeoff', FILE, '--alternative', name, '--json', status=(0, 1))[0])
        estimate = got['estimate']
        assert sum(line['amount'] for line in estimate['lines']) == estimate['total'], name
        assert all(isinstance(line['amount'], int) for line in estimate['lines'])
        assert estimate['total_low'] <= estimate['total'] <= estimate['total_high']
        assert sum(c['count'] for c in got['plants']) > 20, name
        for count in got['plants']:
            assert count['order'] >= count['count']
    assert 'Total' in run('takeoff', FILE)[0]


@check
def fit_names_the_warm_alternative():
    got = json.loads(run('fit', FILE, '--alternative', 'C', '--json', status=1)[0])
    zone = [f for f in got['findings'] if f['rule'] == 'zone']
    assert len(zone) >= 2, got
    for finding in zone:
        assert '5b' in finding['sentence']
        assert len(finding['substitutes']) >= 2, finding
    mild = json.loads(run('fit', FILE, '--alternative', 'A', '--json', status=(0, 1))[0])
    assert not [f for f in mild['findings'] if f['rule'] == 'zone'], mild


def read_ics(text):
    """A reader of RFC 5545 content lines, independent of the library that wrote them."""
    assert text.endswith('\r\n')
    for line in text.encode().split(b'\r\n'):
        assert len(line) <= 75, line
    lines = text.replace('\r\n ', '').replace('\r\n\t', '').split('\r\n')
    assert lines[0] == 'BEGIN:VCALENDAR' and lines[-2] == 'END:VCALENDAR'
    events, stack, event = [], [], None
    for line in lines[:-1]:
        name, _, value = line.partition(':')
        if name == 'BEGIN':
            stack.append(value)
            if value == 'VEVENT':
                event = {}
        elif name == 'END':
            assert stack.pop() == value
            if value == 'VEVENT':
                events.append(event)
                event = None
        elif event is not None and stack[-1] == 'VEVENT':
            event[name.split(';')[0]] = value
    assert not stack
    assert 'VERSION:2.0' in lines and any(line.startswith('PRODID:') for line in lines)
    return events


@check
def calendar_reads_back():
    run('calendar', FILE, '-o', WORK / 'care.ics')
    run('calendar', FILE, '-o', WORK / 'care.csv')
    events = read_ics((WORK / 'care.ics').read_bytes().decode())
    assert len(events) >= 10
    uids = [event['UID'] for event in events]
    assert len(set(uids)) == len(uids)
    for event in events:
        assert re.fullmatch(r'\d{8}T\d{6}Z', event['DTSTAMP'])
        assert re.fullmatch(r'\d{8}', event['DTSTART'])
        assert event['SUMMARY']
    run('calendar', FILE, '-o', WORK / 'again.ics')
    again = read_ics((WORK / 'again.ics').read_bytes().decode())
    assert [event['UID'] for event in again] == uids, 'identifiers must be stable'
    raw = (WORK / 'care.csv').read_bytes().decode()
    rows = list(csv.reader(io.StringIO(raw, newline='')))
    assert raw.count('\r\n') >= len(rows)
    assert len({len(row) for row in rows}) == 1 and len(rows) > 10
    refuse('calendar', FILE, '-o', WORK / 'care.txt', says='ics')


@check
def a_renamed_design_keeps_its_calendar():
    """Title changed in the written sheet: the drafted design has the same UIDs, so that a calendar updates."""
    def uids(file, name):
        run('calendar', file, '-o', WORK / name)
        return re.findall(r'UID:(.*)', (WORK / name).read_text().replace('\n ', ''))

    before = uids(FILE, 'before.ics')
    out, _ = run('sheet', FILE)
    data = json.loads(out)
    data['title'] = 'Renamed'
    data.pop('photo', None)
    renamed = WORK / 'renamed.bedline'
    run('draft', write_sheet('renamed.json', data), '-o', renamed)
    after = uids(renamed, 'after.ics')
    assert before and len(set(before)) == len(before)
    assert all(uid.split('@')[1] == before[0].split('@')[1] for uid in before + after), (before[:2], after[:2])


@check
def own_plants_and_the_nursery():
    """RFC 4180 both ways, all or nothing; the order says what is short; a picture travels in the design file."""
    def png(width, height):
        row = b'\0' + b''.join(bytes((200, 40, 60, 255 if 4 < x < width - 4 else 0)) for x in range(width))
        def part(kind, data):
            return struct.pack('>I', len(data)) + kind + data + struct.pack('>I', zlib.crc32(kind + data))
        return (b'\x89PNG\r\n\x1a\n' + part(b'IHDR', struct.pack('>IIBBBBB', width, height, 8, 6, 0, 0, 0))
                + part(b'IDAT', zlib.compress(row * height)) + part(b'IEND', b''))

    home = dict(ENV, XDG_DATA_HOME=str(WORK / 'own'))
    (WORK / 'cut.png').write_bytes(png(40, 60))
    run('own', '--picture', WORK / 'cut.png', '--plant', 'perovskia-atriplicifolia', '--height', '1.1', env=home)
    table, _ = run('own', '-o', '-', env=home)
    rows = list(csv.reader(io.StringIO(table), strict=True))
    assert len(rows) == 2 and rows[1][0] == 'perovskia-atriplicifolia'
    rows.append(['third-one'] + rows[1][1:])
    rows[2][rows[0].index('years')] = 'some'
    out = io.StringIO()
    csv.writer(out).writerows(rows)
    (WORK / 'bad.csv').write_text(out.getvalue())
    _, err = run('own', '--take', WORK / 'bad.csv', status=2, env=home)
    assert f'Line 3, column {rows[0].index("years") + 1} ' in err, err
    assert run('own', '-o', '-', env=home)[0] == table
    run('draft', SHEET, '-o', WORK / 'own.bedline', env=home)
    pictures = [WORK / 'here.png', WORK / 'there.png']
    for picture, where in zip(pictures, (home, ENV)):
        run('picture', WORK / 'own.bedline', '-o', picture, '--view', 'photo', '--width', '400', env=where)
    assert pictures[0].read_bytes() == pictures[1].read_bytes()
    run('draft', SHEET, '-o', WORK / 'plain.bedline')
    run('picture', WORK / 'plain.bedline', '-o', WORK / 'plain.png', '--view', 'photo', '--width', '400')
    assert (WORK / 'plain.png').read_bytes() != pictures[0].read_bytes()
    (WORK / 'list.csv').write_text('Botanical name,Size,Price,In stock\r\nEchinacea purpurea,quart,5.25,3\r\n'
                                   'Plantus unknowniana,quart,1,1\r\n')
    said, _ = run('nursery', WORK / 'own.bedline', '--take', WORK / 'list.csv', status=1, env=home)
    assert 'Line 3: there is no Plantus unknowniana' in said, said
    _, err = run('order', WORK / 'own.bedline', '-o', WORK / 'short.csv', status=1, env=home)
    assert 'Echinacea purpurea, quart' in err, err
    rows = list(csv.DictReader(io.StringIO((WORK / 'short.csv').read_text())))
    row = next(row for row in rows if row['Botanical name'] == 'Echinacea purpurea')
    assert row['Price each'] == '5.25' and int(row['Short by']) == int(row['Order']) - 3, row
    found, _ = run('plants', '--in-stock', env=home)
    assert found.startswith('echinacea-purpurea'), found
    refuse('own', says='say what to do')


@check
def order_is_rfc4180():
    run('order', FILE, '-o', WORK / 'order.csv')
    rows = list(csv.reader(io.StringIO((WORK / 'order.csv').read_bytes().decode(), newline='')))
    assert len({len(row) for row in rows}) == 1 and len(rows) > 3


@check
def request_has_no_prices():
    run('order', FILE, '-o', WORK / 'request.csv', '--request')
    head, *rows = csv.reader(io.StringIO((WORK / 'request.csv').read_bytes().decode(), newline=''))
    assert 'Available' in head and 'Substitute allowed' in head and not any('rice' in h for h in head), head
    assert rows and all(len(row) == len(head) for row in rows)


@check
def firm_keeps_its_prices():
    """Prices taken from a table and kept are those of the next new design; USD 9.99 a bag of mulch."""
    table, home = WORK / 'prices.csv', dict(ENV, XDG_DATA_HOME=str(WORK / 'firm'))
    shutil.copy(FILE, WORK / 'priced.bedline')
    run('prices', WORK / 'priced.bedline', '-o', table, env=home)
    rows = list(csv.reader(io.StringIO(table.read_bytes().decode(), newline='')))
    for row in rows:
        if row[1] == 'mulch-bag':
            row[4], row[7] = '9.99', 'no'
    with open(table, 'w', newline='') as out:
        csv.writer(out).writerows(rows)
    run('prices', WORK / 'priced.bedline', '--take', table, '--keep', env=home)
    run('draft', SHEET, '-o', WORK / 'next.bedline', env=home)
    run('prices', WORK / 'next.bedline', '-o', WORK / 'next.csv', env=home)
    again = list(csv.reader(io.StringIO((WORK / 'next.csv').read_bytes().decode(), newline='')))
    assert again == rows
    assert run('verify', WORK / 'next.bedline', env=home)
    (WORK / 'bad.csv').write_text('kind,key\n')
    refuse('prices', WORK / 'priced.bedline', '--take', WORK / 'bad.csv', says='bad.csv.*first record')
    refuse('prices', FILE, says='-o')


@check
def water_of_a_year():
    """Summed here again: a month's use is its share of the year's evapotranspiration."""
    eto = [20, 25, 50, 80, 110, 130, 140, 120, 85, 55, 30, 20]
    got = json.loads(run('water', FILE, '--eto', ','.join(map(str, eto)), '--json', status=(0, 1))[0])
    gallons = sum(eto) / 25.4 * 0.62 * got['area_m2'] / 0.09290304
    assert abs(got['allowance_l'] / 3.785411784 - 0.45 * gallons) < 0.01
    use = sum(z['plant_factor'] / 0.81 * z['area_m2'] for z in got['zones']) / got['area_m2'] * gallons
    assert abs(got['use_l'] / 3.785411784 - use) < 0.01
    assert abs(sum(z['area_m2'] for z in got['zones']) - got['area_m2']) < 1e-9
    assert all(abs(u - got['use_l'] * e / sum(eto)) < 1e-6 for u, e in zip(got['use_month_l'], eto))
    refuse('water', FILE, says='--eto')
    refuse('water', FILE, '--eto', '1,2', says='twelve months')
    refuse('water', FILE, '--temperatures', ','.join(['9/-9'] * 12), says='twelve months')


def png_size(path):
    data = path.read_bytes()
    assert data[:8] == b'\x89PNG\r\n\x1a\n'
    return struct.unpack('>II', data[16:24])


@check
def pictures_in_each_format():
    run('picture', FILE, '-o', WORK / 'photo.png', '--view', 'photo', '--month', 7, '--year', 3,
        '--width', 800)
    assert png_size(WORK / 'photo.png') == (800, 600)
    run('picture', FILE, '-o', WORK / 'plan.png', '--view', 'plan', '--width', 700)
    assert png_size(WORK / 'plan.png')[0] == 700
    run('picture', FILE, '-o', WORK / 'plan.svg', '--view', 'plan')
    assert '<svg' in (WORK / 'plan.svg').read_text()[:400]
    run('picture', FILE, '-o', WORK / 'plan.pdf', '--view', 'plan')
    assert (WORK / 'plan.pdf').read_bytes()[:5] == b'%PDF-'
    refuse('picture', FILE, '-o', WORK / 'x.gif', says='png')
    refuse('picture', FILE, '-o', WORK / 'x.png', '--month', 13, says='month')
    refuse('picture', FILE, '-o', WORK / 'x.png', '--alternative', 'Z', says='“A”')


def pdf(path):
    text = subprocess.run(['pdftotext', '-layout', path, '-'], capture_output=True, check=True)
    info = subprocess.run(['pdfinfo', path], capture_output=True, check=True).stdout.decode()
    sound = subprocess.run(['qpdf', '--check', path], capture_output=True)
    assert sound.returncode == 0, (sound.stdout + sound.stderr).decode()[:800]
    fonts = subprocess.run(['pdffonts', path], capture_output=True, check=True).stdout.decode()
    for line in fonts.splitlines()[2:]:
        assert ' yes yes yes ' in line, f'not embedded, subset and mapped: {line}'
    return text.stdout.decode(), info


@check
def proposal_says_what_the_engine_says():
    run('proposal', FILE, '-o', WORK / 'proposal.pdf')
    text, info = pdf(WORK / 'proposal.pdf')
    assert 'Harbour Lane' in text and 'Title:' in info
    pages = int(re.search(r'Pages:\s+(\d+)', info)[1])
    assert 10 <= pages <= 30, pages
    for name in 'ABC':
        got = json.loads(run('takeoff', FILE, '--alternative', name, '--json', status=(0, 1))[0])
        total = f"{got['estimate']['total'] / 100:,.2f}"
        assert total in text, (name, total)
        for count in got['plants']:
            assert count['common'].split(',')[0] in text, count
    assert not list(WORK.glob('.bedline-*'))
    run('proposal', FILE, '-o', WORK / 'a4.pdf', '--paper', 'A4', '--alternative', 'B')
    assert 'A4' in pdf(WORK / 'a4.pdf')[1]
    run('proposal', FILE, '-o', WORK / 'es.pdf', '--language', 'es', '--detailed')
    assert 'Presupuesto' in pdf(WORK / 'es.pdf')[0]
    refuse('proposal', FILE, '-o', WORK / 'x.pdf', '--paper', 'Quarto', says='Letter')
    refuse('proposal', FILE, '-o', WORK / 'no' / 'x.pdf', says='folder')


@check
def options_come_from_the_sheet():
    """Lines that the client may tick, marked in the sheet: out of the total, priced apart, in the proposal; lines
    of one name are one option, and the mark survives the way out and in."""
    data = sheet()
    alternative = data['alternatives'][0]
    alternative['overrides'] = alternative.get('overrides', []) + [
        {'line': 'material:fabric', 'field': 'quantity', 'value': 12},
        {'line': 'labour:lay-fabric', 'field': 'quantity', 'value': 0.5},
        {'line': 'material:fabric', 'field': 'optional', 'note': 'Fabric, laid'},
        {'line': 'labour:lay-fabric', 'field': 'optional', 'note': 'Fabric, laid'}]
    file = WORK / 'options.bedline'
    run('draft', write_sheet('options.json', data), '-o', file)
    name = alternative['name']
    plain = json.loads(run('takeoff', FILE, '--alternative', name, '--json', status=(0, 1))[0])['estimate']
    got = json.loads(run('takeoff', file, '--alternative', name, '--json', status=(0, 1))[0])['estimate']
    assert got['total'] == plain['total']
    (option,) = got['options']
    assert option['name'] == 'Fabric, laid' and len(option['lines']) == 2
    # Alone it costs its lines; with overhead, allowances and profit it is dearer.
    assert option['price'] > sum(line['amount'] for line in option['lines']) > 0
    run('proposal', file, '-o', WORK / 'options.pdf')
    text, _ = pdf(WORK / 'options.pdf')
    assert 'Fabric, laid' in text and f"{option['price'] / 100:,.2f}" in text
    again = json.loads(run('sheet', file)[0])['alternatives'][0]['overrides']
    assert [m['value'] for m in again if m['field'] == 'optional'] == [1, 1]


@check
def crew_pack_in_both_languages():
    run('crew', FILE, '-o', WORK / 'crew.pdf')
    text, _ = pdf(WORK / 'crew.pdf')
    assert 'Set-out table' in text and '811' in text
    run('crew', FILE, '-o', WORK / 'crew-es.pdf', '--language', 'es')
    assert 'Tabla de replanteo' in pdf(WORK / 'crew-es.pdf')[0]
    run('crew', FILE, '-o', WORK / 'line.pdf', '--setout', 'baseline')
    text, _ = pdf(WORK / 'line.pdf')
    assert 'Baseline from A to B' in text and 'Set-out table' not in text
    run('crew', FILE, '-o', WORK / 'both.pdf', '--setout', 'both', '--units', 'm')
    text, _ = pdf(WORK / 'both.pdf')
    assert 'Baseline from' in text and 'Set-out table' in text
    assert re.search(r'\d\.\d\d m', text) and '′' not in text
    refuse('crew', FILE, '-o', WORK / 'x.pdf', '--setout', 'by eye', says='tapes, baseline or both')


@check
def proposal_takes_wishes():
    mark = WORK / 'mark.svg'
    mark.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="80" height="40">'
                    '<text x="4" y="28" font-size="24">QuxMark</text></svg>')
    run('proposal', FILE, '-o', WORK / 'part.pdf', '--pages', 'cover, place', '--units', 'm',
        '--mark', mark, '--designer', 'Nobody')
    text, info = pdf(WORK / 'part.pdf')
    assert re.search(r'Pages:\s+2\b', info), info
    # What the sheet says stays: title, client, its own designer; only the figures turn metric.
    data = sheet()
    assert data['title'] in text and data['client'].split(',')[0] in text
    assert 'Nobody' not in text and 'QuxMark' in text
    assert ' m²' in text and 'sq ft' not in text
    del data['designer']
    run('proposal', write_sheet('nameless.json', data), '-o', WORK / 'named.pdf', '--pages', 'cover',
        '--designer', 'Somebody Else')
    assert 'Somebody Else' in pdf(WORK / 'named.pdf')[0]
    refuse('proposal', FILE, '-o', WORK / 'x.pdf', '--pages', 'cover,back', says='cover, place, ')
    refuse('proposal', FILE, '-o', WORK / 'x.pdf', '--units', 'ell', says='ft or m')
    refuse('proposal', FILE, '-o', WORK / 'x.pdf', '--mark', WORK / 'none.png', says='PNG, JPEG or SVG')
    refuse('proposal', FILE, '-o', WORK / 'x.pdf', '--mark', SHEET, says='JPEG or a PNG')
    mark.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="80" height="40">'
                    '<image href="file:///etc/passwd"/></svg>')
    refuse('proposal', FILE, '-o', WORK / 'x.pdf', '--mark', mark, says='.')
    mark.write_bytes(b'\0' * (2 * 1024 * 1024 + 1))
    refuse('proposal', FILE, '-o', WORK / 'x.pdf', '--mark', mark, says='2 MB')
    assert not (WORK / 'x.pdf').exists()


@check
def plan_to_scale_in_both_formats():
    run('plan', FILE, '-o', WORK / 'plan.pdf')
    text, info = pdf(WORK / 'plan.pdf')
    assert re.search(r'Pages:\s+1\b', info) and '792 x 612' in info, info
    assert 'Print at 100 %' in text and 'Echinacea purpurea' in text
    run('plan', FILE, '-o', WORK / 'plan.svg', '--paper', 'A3', '--language', 'es', '--units', 'm')
    head = (WORK / 'plan.svg').read_text()[:400]
    # ISO 216: A3 is 420 × 297 mm; 72 points an inch.
    width, height = (float(x) for x in re.search(r'width="([\d.]+)pt" height="([\d.]+)pt"', head).groups())
    assert abs(width - 420 / 25.4 * 72) < 0.1 and abs(height - 297 / 25.4 * 72) < 0.1, head
    assert not list(WORK.glob('.bedline-*'))


@check
def care_sheet_and_before_after():
    run('care-sheet', FILE, '-o', WORK / 'care.pdf', '--alternative', 'B')
    text, info = pdf(WORK / 'care.pdf')
    assert re.search(r'Pages:\s+1\b', info) and 'first summer' in text
    run('before-after', FILE, '-o', WORK / 'both.png', '--width', '800')
    head = (WORK / 'both.png').read_bytes()[:24]
    assert struct.unpack('>I', head[16:20])[0] == 800
    run('before-after', FILE, '-o', WORK / 'both.jpg', '--width', '800', '--language', 'es')
    assert (WORK / 'both.jpg').read_bytes()[:2] == b'\xff\xd8'
    refuse('before-after', FILE, '-o', WORK / 'both.gif', says='.png or .jpg')
    refuse('before-after', FILE, '-o', WORK / 'both.png', '--width', '7', says='width')
    data = sheet()
    data.pop('photo')
    for bed in data['beds']:
        bed['outline'], bed['from'] = [[0, 0], [20, 0], [20, 8], [0, 8]], 'plan'
    data['features'], data['knowns'] = [], []
    refuse('before-after', write_sheet('photoless.json', data), '-o', WORK / 'x.png', says='photo')


@check
def plants_are_found():
    got = json.loads(run('plants', 'coneflower', '--json')[0])['plants']
    assert any(p['slug'] == 'echinacea-purpurea' for p in got), got
    salt = json.loads(run('plants', '--zone', '5b', '--sun', 'full', '--salt', '--json')[0])['plants']
    assert len(salt) >= 5
    assert all(p['soil_salt'] in ('medium', 'high') for p in salt)
    refuse('plants', '--zone', '99z', says='zone')
    refuse('plants', '--sun', 'bright', says='full, part or shade')


@check
def verify_says_sound():
    assert 'sound' in run('verify', FILE)[0]


@check
def bad_photos_are_refused():
    (WORK / 'text.jpg').write_text('this is not a picture\n')
    (WORK / 'empty.jpg').write_bytes(b'')
    whole = (DEMO / 'harbour-lane.jpg').read_bytes()
    (WORK / 'half.jpg').write_bytes(whole[:len(whole) // 2])

    def chunk(kind, data):
        return (struct.pack('>I', len(data)) + kind + data
                + struct.pack('>I', zlib.crc32(kind + data)))
    # 20000 x 10000 pixels: 200 megapixels in a few hundred bytes.
    (WORK / 'huge.png').write_bytes(
        b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', 20000, 10000, 8, 2, 0, 0, 0))
        + chunk(b'IDAT', zlib.compress(b'\0' * 60001)) + chunk(b'IEND', b''))
    for name, says in (('text.jpg', 'text.jpg|picture|JPEG'), ('empty.jpg', 'empty|0 bytes'),
                       ('half.jpg', 'cut|truncated|incomplete|damaged'),
                       ('huge.png', 'megapixel|large'), ('none.jpg', 'none.jpg')):
        data = sheet()
        data['photo']['file'] = name
        path = write_sheet('bad.json', data)
        refuse('draft', path, '-o', WORK / 'bad.bedline', says=says)
        assert not (WORK / 'bad.bedline').exists(), name


@check
def bad_sheets_are_refused():
    def edited(change):
        data = sheet()
        change(data)
        return write_sheet('bad.json', data)

    def put(data, plant):
        data['alternatives'][0]['plantings'][0]['plant'] = plant

    def cross(data):
        # The second and third of four corners swapped: two sides cross.
        data['beds'].append({'name': 'Bow', 'outline': [[0, 0], [6, 6], [6, 0], [0, 6]],
                             'straight': True})

    def behind(data):
        data['beds'].append({'name': 'Sky', 'outline_px': [[100, 20], [400, 20], [400, 90], [90, 80]]})

    cases = [(lambda d: put(d, 'no-such-plant'), r'alternatives\[0\].plantings\[0\].*no-such-plant'),
             (cross, r'beds\[1\]\.outline.*crosses itself between points'),
             (behind, r'beds\[1\].*horizon'),
             (lambda d: d.update({'colour': 1}), 'colour'),
             (lambda d: d['known'][0].update({'width': 'NaN'}), r'known\[0\]\.width'),
             (lambda d: d['beds'][0].pop('name') and d['beds'][0].update({'name': 7}), r'beds\[0\]'),
             (lambda d: d['known'][0].update({'width': 40, 'depth': 10}), r'known\[')]
    for change, says in cases:
        refuse('draft', edited(change), '-o', WORK / 'bad.bedline', says=says)
        assert not (WORK / 'bad.bedline').exists(), says
    text = SHEET.read_text()
    number = re.search(r'"latitude"\s*:\s*([-\d.]+)', text)
    path = write_sheet('bad.json', text[:number.start(1)] + 'NaN' + text[number.end(1):])
    refuse('draft', path, '-o', WORK / 'bad.bedline', says='.')
    path = write_sheet('bad.json', text[:len(text) // 2])
    refuse('draft', path, '-o', WORK / 'bad.bedline', says='.')
    data = sheet()
    data['photo']['file'] = '../harbour-lane.jpg'
    refuse('draft', write_sheet('bad.json', data), '-o', WORK / 'bad.bedline', says='folder')


@check
def bad_design_files_are_refused():
    (WORK / 'text.bedline').write_text('a text, not a design\n' * 100)
    whole = FILE.read_bytes()
    (WORK / 'half.bedline').write_bytes(whole[:len(whole) // 2])
    (WORK / 'zero.bedline').write_bytes(b'')
    other = WORK / 'other.bedline'
    with sqlite3.connect(other) as db:
        db.execute('create table t (x)')
    for name in ('text', 'half', 'zero', 'other', 'none'):
        path = WORK / f'{name}.bedline'
        before = path.read_bytes() if path.exists() else None
        for command in (('measure', path), ('verify', path), ('takeoff', path)):
            refuse(*command, says='.')
        assert (path.read_bytes() if path.exists() else None) == before, name
    # A newer version opens for reading and says so; nothing is written.
    newer = WORK / 'newer.bedline'
    shutil.copy(FILE, newer)
    with sqlite3.connect(newer) as db:
        db.execute('pragma user_version = 999')
    before = newer.read_bytes()
    run('measure', newer, status=(0, 1, 2))
    assert newer.read_bytes() == before
    # An existing file is never overwritten by a draft.
    refuse('draft', SHEET, '-o', FILE, says='exists')
    assert FILE.read_bytes() == whole


@check
def a_hostile_design_file_is_refused():
    hostile = WORK / 'hostile.bedline'
    shutil.copy(FILE, hostile)
    with sqlite3.connect(hostile) as db:
        table = db.execute("select name from sqlite_master where type = 'table' limit 1").fetchone()[0]
        db.execute(f'create trigger bad after insert on "{table}" begin select 1; end')
    refuse('measure', hostile, says='trigger|not a design|does not belong')


@check
def usage_is_told():
    refuse('draft', SHEET, says='-o')
    refuse('measure', says='argument')
    refuse('measure', '--no-such-option', FILE, says='no-such-option|Unknown')
    assert 'draft' in run('--help')[0]
    assert re.match(r'bedline \d', run('--version')[0])


print(f'1..{len(checks)}')
failed = 0
for number, function in enumerate(checks, 1):
    name = function.__name__.replace('_', ' ')
    try:
        function()
        print(f'ok {number} {name}', flush=True)
    except Exception as error:  # a test's failure is any error
        failed += 1
        print(f'not ok {number} {name}')
        for line in f'{type(error).__name__}: {error}'.splitlines():
            print(f'# {line[:600]}')
        sys.stdout.flush()
shutil.rmtree(WORK, ignore_errors=True)
sys.exit(1 if failed else 0)
