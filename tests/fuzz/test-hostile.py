#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The command line given files made to do harm: an exit status, one sentence, and nothing else."""
import base64
import json
import os
import pathlib
import re
import sqlite3
import struct
import subprocess
import sys
import tempfile
import time
import zlib

PROGRAM, PHOTO, INPUTS = (pathlib.Path(arg).resolve() for arg in sys.argv[1:4])
work = pathlib.Path(tempfile.mkdtemp(prefix='bedline-hostile-'))
number = failed = 0


def report(name, problems):
    global number, failed
    number += 1
    failed += bool(problems)
    print(f'{"not ok" if problems else "ok"} {number} {name}', flush=True)
    for problem in problems:
        print(f'# {problem}')


def run(*args):
    began = time.monotonic()
    done = subprocess.run([PROGRAM, *map(str, args)], capture_output=True, timeout=120, cwd=work,
                          env={**os.environ, 'XDG_DATA_HOME': str(work / 'home')})
    return done.returncode, done.stdout, done.stderr.decode('utf-8', 'strict'), time.monotonic() - began


def refused(name, *args, says=''):
    """Status 2 and one line on standard error that holds @says."""
    status, _, errors, seconds = run(*args)
    problems = []
    if status != 2:
        problems.append(f'exit status {status}')
    if errors.count('\n') != 1 or not errors.startswith('bedline '):
        problems.append(f'not one sentence: {errors!r}')
    if not re.search(says, errors):
        problems.append(f'“{errors.strip()}” does not say “{says}”')
    if seconds > 30:
        problems.append(f'took {seconds:.0f} s')
    report(name, problems)


def sheet(name, **parts):
    path = work / f'{name}.sheet.json'
    path.write_text(json.dumps({'design_sheet': 1, 'units': 'm', **parts}))
    return path


def chunk(kind, data):
    return struct.pack('>I', len(data)) + kind + data + struct.pack('>I', zlib.crc32(kind + data))


def png(width, height, rows):
    return (b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', width, height, 8, 2, 0, 0, 0))
            + chunk(b'IDAT', zlib.compress(rows, 9)) + chunk(b'IEND', b''))


# Two panels of a walk, 3.05 by 1.22 m, in a picture of 2016 × 1512 pixels.
KNOWN = [{'kind': 'rectangle', 'px': [[400.7, 934.8], [842.2, 791.8], [672.7, 776.9], [194.5, 898.6]],
          'width': 3.048, 'depth': 1.2192}]
GROUND = {
    'beds': [{'name': 'Strip', 'outline': [[0, 0], [6, 0], [6, 3], [0, 3]]}],
    'alternatives': [{'name': 'A', 'plantings': [
        {'plant': 'echinacea-purpurea', 'form': 'drift', 'bed': 'Strip', 'outline': [[0, 0], [3, 0], [3, 3], [0, 3]]},
        {'plant': 'nepeta-x-faassenii', 'form': 'fill', 'bed': 'Strip'}]}],
}


def files_that_are_none():
    (work / 'empty').write_bytes(b'')
    (work / 'text').write_text('hello')
    (work / 'noise').write_bytes(bytes(range(256)) * 300)
    (work / 'deep.json').write_text('{"design_sheet":' + '[' * 100000)
    (work / 'two.json').write_text('{"design_sheet":1} {"design_sheet":1}')
    (work / 'latin.json').write_bytes(b'{"design_sheet":1,"title":"\xe9"}')
    os.mkfifo(work / 'pipe')
    refused('an empty file', 'verify', 'empty', says='empty')
    refused('a text', 'verify', 'text', says='not a Bedline design')
    refused('noise', 'verify', 'noise', says='not a Bedline design')
    refused('a folder', 'verify', '.', says='not a file')
    refused('a pipe', 'verify', 'pipe', says='not a file')
    for command in ('draft', '-o', 'x.bedline'), ('takeoff',), ('prices', '-o', 'x.csv', '--take'):
        for where in 'pipe', '/dev/zero', '.', 'missing':
            refused(f'{command[0]} {where}', *command, where, says='is not a file|cannot be opened|cannot be read')
    refused('a missing file', 'verify', 'missing', says='cannot be opened')
    refused('a hundred thousand brackets', 'draft', 'deep.json', '-o', 'x.bedline', says='brackets within brackets')
    refused('two sheets in one file', 'draft', 'two.json', '-o', 'x.bedline', says='outside its outermost brackets')
    refused('a sheet in another encoding', 'draft', 'latin.json', '-o', 'x.bedline', says='UTF-8')
    report('nothing was made of them', [] if not (work / 'x.bedline').exists() else ['x.bedline stands there'])


def designs_that_would_run():
    path = work / 'good.bedline'
    report('a good design is drafted', [] if run('draft', sheet('good', **GROUND), '-o', path)[0] == 0 else ['refused'])
    changes = {
        'a trigger': ('CREATE TRIGGER t AFTER UPDATE ON text BEGIN DELETE FROM bed; END', 'is not opened'),
        'a view': ('CREATE VIEW v AS SELECT 1', 'is not opened'),
        'a table of its own': ('CREATE TABLE more (x)', 'is not opened'),
        'an index with an expression': ("CREATE INDEX i ON bed (name || 'x')", 'is not opened'),
        'another application': ('PRAGMA application_id = 7', 'not a Bedline design'),
        'a bed of nonsense': ("UPDATE bed SET points = '[1,2'", ''),
        'a bed of a million brackets': ("UPDATE bed SET points = printf('%.*c', 1000000, '[')", ''),
        'a plant with a path for a key': ("PRAGMA foreign_keys = OFF; UPDATE plant SET slug = '../../x' WHERE id = 1", ''),
        'a planting of nothing': ("PRAGMA foreign_keys = OFF; UPDATE planting SET slug = 'nothing'", 'damaged'),
    }
    for name, (sql, says) in changes.items():
        bad = work / 'bad.bedline'
        bad.write_bytes(path.read_bytes())
        db = sqlite3.connect(bad)
        db.executescript(sql)
        db.close()
        refused(f'a design with {name}', 'takeoff', bad, says=says)
    bad.write_bytes(path.read_bytes()[:-20000])
    refused('a design cut short', 'takeoff', bad)


def pictures_and_paths():
    secret = work.parent / f'{work.name}-secret.jpg'
    secret.write_bytes(PHOTO.read_bytes())
    (work / 'link.jpg').symlink_to(secret)
    (work / 'folder-link').symlink_to(work.parent)
    for name, file in {'an absolute path': str(secret), 'a path upwards': f'../{secret.name}',
                       'a path down and up': f'x/../../{secret.name}', 'a link that leads out': 'link.jpg',
                       'a folder that leads out': f'folder-link/{secret.name}', 'backslashes': '..\\x.jpg',
                       'no name': '', 'the folder itself': '.', 'a device': '/dev/zero'}.items():
        refused(f'a photo by {name}', 'draft', sheet('path', photo={'file': file}), '-o', 'y.bedline', says='photo')
    secret.unlink()
    bombs = {
        'bomb.png': (png(30000, 30000, b'\0' * 10000000), 'too large'),
        'short.png': (png(2016, 1512, b'\0' * 1000), 'damaged|cut short'),
        'huge.jpg': ((INPUTS / 'jpeg-huge-sides').read_bytes(), 'Maximum supported|too large'),
        'short.jpg': ((INPUTS / 'jpeg-bomb-allowed').read_bytes(), 'cut short|damaged'),
        'scans.jpg': ((INPUTS / 'jpeg-many-scans').read_bytes(), 'scans|cut short'),
        'text.jpg': (b'hello', 'JPEG or a PNG'),
        'empty.jpg': (b'', 'empty'),
    }
    for name, (data, says) in bombs.items():
        (work / name).write_bytes(data)
        design = work / f'{name}.bedline'
        where = sheet('bomb', photo={'file': name, 'focal_35mm': 26}, known=KNOWN, **GROUND)
        status, _, errors, seconds = run('draft', where, '-o', design)
        if status == 0:
            status, _, errors, seconds = run('picture', design, '-o', 'z.png', '--view', 'photo')
        report(f'a picture like {name}', [] if status == 2 and re.search(says, errors) and errors.count('\n') == 1
               and seconds < 30 else [f'{status} {errors.strip()} {seconds:.1f} s'])


def text_in_a_picture():
    """A picture whose text unpacks to 300 MB is read as it would be without, in little memory."""
    shown = png(640, 480, (b'\0' + bytes(3 * 640)) * 480)
    text = chunk(b'zTXt', b'k\0\0' + zlib.compress(bytes(b'a' * 7500000), 9)) * 40
    peaks = []
    for name, data in ('bare.png', shown), ('text.png', shown[:33] + text + shown[33:]):
        (work / name).write_bytes(data)
        design = work / f'{name}.bedline'
        known = [{**KNOWN[0], 'px': [[x / 3.15, y / 3.15] for x, y in KNOWN[0]['px']]}]
        where = sheet('text', photo={'file': name, 'focal_35mm': 26}, known=known, **GROUND)
        status, _, errors, _ = run('draft', where, '-o', design)
        if status != 2:
            pid = os.spawnve(os.P_NOWAIT, PROGRAM, [str(PROGRAM), 'picture', str(design), '-o', str(work / f'{name}.out.png'),
                             '--view', 'photo'], {**os.environ, 'XDG_DATA_HOME': str(work / 'home')})
            status, used = os.wait4(pid, 0)[1:]
            peaks.append(used.ru_maxrss / 1024)
        report(f'{name} is drawn', [] if status == 0 else [f'{status} {errors.strip()}'])
    report('its text takes no memory', [] if len(peaks) == 2 and peaks[1] < peaks[0] + 100 else [f'{peaks} MB'])


def drawings_that_reach_out():
    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 60">'
    layers = '<circle id="l0" r="1"/>' + ''.join(
        f'<g id="l{i}">' + f'<use href="#l{i - 1}"/>' * 10 + '</g>' for i in range(1, 10))
    markers = ''.join(f'<marker id="m{i}"><path d="{"M1 1" * 30}" marker-mid="url(#m{i - 1})"/></marker>'
                      for i in range(1, 6)) + '<path d="M0 0 1 1 2 2" marker-mid="url(#m5)"/>'
    drawings = {
        'script': ('<script>1</script>', 'runs'), 'handler': ('<rect onclick="x()"/>', 'runs'),
        'file': ('<use href="file:///etc/passwd#x"/>', 'outside itself'),
        'paint': ('<rect fill="url(http://x.example/a#b)"/>', 'outside itself'),
        'picture': ('<image href="data:image/png;base64,AAAA"/>', 'picture inside'),
        'noise': ('<filter id="f"/>', 'not drawn here'), 'layers': (layers, 'would not end'),
        'capitals': (markers.replace('url(', 'URL('), 'would not end'),
        'escapes': (markers.replace('url(', r'u\72l('), 'not drawn here'),
        'twice': (layers + ''.join(f'<g id="l{i}"/>' for i in range(1, 10)), 'would not end'),
        'pictures': ('<g opacity=".5"/>' * 1000, 'would not end'),
        'deep': ('<g>' * 300 + '</g>' * 300, 'deep'), 'many': ('<g/>' * 110000, '100,000 parts')}
    for name, (inside, says) in drawings.items():
        (work / f'{name}.svg').write_text(head + inside + '</svg>')
        refused(f'a drawing with {name}', 'draft', sheet('drawing', drawing={'file': f'{name}.svg'}), '-o',
                'd.bedline', says=says)
    (work / 'large.svg').write_text(head + ' ' * (9 << 20) + '</svg>')
    refused('a drawing of nine megabytes', 'draft', sheet('drawing', drawing={'file': 'large.svg'}), '-o',
            'd.bedline', says='8 megabytes')
    # Drawn after all, but without what would take minutes: dashes finer than a pixel, or far out of sight.
    for name, path in {'fine': 'stroke-dasharray=".00001" d="M0 0L1e9 1e9"',
                       'far': 'stroke-dasharray=".02" d="' + 'M0 30H180000H0' * 20 + '"'}.items():
        (work / f'{name}.svg').write_text(f'{head}<path stroke="#000" {path}/></svg>')
        status, _, errors, seconds = run('draft', sheet('drawing', drawing={'file': f'{name}.svg'}), '-o', 'd.bedline')
        report(f'a drawing of {name} dashes ends', [] if status == 0 and seconds < 30
               else [f'{status} after {seconds:.0f} s: {errors}'])
        (work / 'd.bedline').unlink(missing_ok=True)


def cells_that_would_run():
    danger = re.compile(r'^[=+\-@\t\r]')
    bad = '=HYPERLINK("http://localhost/","x")'
    split = "a;=cmd|' /C calc'!A0;b"
    where = sheet('cells', **{**GROUND, 'title': bad, 'client': '@SUM(1)', 'prices': {'items': [
        {'key': 'echinacea-purpurea|plug', 'kind': 'plant', 'name': bad, 'unit': 'each', 'price': 9, 'supplier': '+cmd'},
        {'key': 'nepeta-x-faassenii|plug', 'kind': 'plant', 'name': 'x', 'unit': 'each', 'price': 9, 'supplier': split}]},
        'own_tasks': [{'title': '-2+3', 'day': '2027-04-01'}, {'title': split, 'day': '2027-04-02'},
                      {'title': 'a;"=1+1"', 'day': '2027-04-03'}]})
    import csv
    for command, name in ('order', 'o.csv'), ('calendar', 'c.csv'):
        status, _, errors, _ = run(command, where, '-o', name)
        problems = [] if status in (0, 1) else [f'{status} {errors.strip()}']
        if not problems:
            text = (work / name).read_text(encoding='utf-8')
            problems += [] if 'calc' in text else ['the formula did not come as far as this']
            # A system may have any of these for its list separator, and opens the file by it.
            for separator in ',;\t':
                for row in csv.reader(text.splitlines(), delimiter=separator):
                    problems += [f'{cell!r} would run, split at {separator!r}' for cell in row
                                 if danger.match(cell) and not re.fullmatch(r'[+-]?[\d.,]+', cell)]
        report(f'no cell of the {command} would run in a spreadsheet', problems)


def privacy():
    """The demo photo with a place and a camera in its metadata: none of it in what is handed on."""
    # The demo's photo with the metadata of another put into its head.
    tagged, plain = (INPUTS / 'jpeg-place').read_bytes(), PHOTO.read_bytes()
    at = tagged.index(b'\xff\xe1')
    length = struct.unpack('>H', tagged[at + 2:at + 4])[0]
    (work / 'private.jpg').write_bytes(plain[:2] + tagged[at:at + 2 + length] + plain[2:])
    where = sheet('private', photo={'file': 'private.jpg'}, known=KNOWN, **GROUND)
    design = work / 'private.bedline'
    status, _, errors, _ = run('draft', where, '-o', design)
    report('a photo with a place is taken', [] if status == 0 else [errors])
    shown = json.loads(run('sheet', design)[1])
    report('its place was read', [] if 'latitude' in shown.get('site', {}) else [str(shown.get('site'))])
    marks = (b'Exif\0', b'Camera\0', b'xpacket', b'2026:05:12', str(work).encode())
    for name, args in {'plan.png': ('picture', '--view', 'plan'), 'plan.svg': ('picture', '--view', 'plan'),
                       'plan.pdf': ('picture', '--view', 'plan'), 'photo.png': ('picture', '--view', 'photo'),
                       'photo.svg': ('picture', '--view', 'photo'), 'photo.pdf': ('picture', '--view', 'photo'),
                       'proposal.pdf': ('proposal',), 'crew.pdf': ('crew',)}.items():
        status, _, errors, _ = run(args[0], design, '-o', name, *args[1:])
        if status == 2:
            report(f'{name} is made', [errors])
            continue
        data = (work / name).read_bytes()
        for packed in re.findall(rb'stream\r?\n(.*?)\r?\nendstream', data, re.S):
            try:
                data += zlib.decompress(packed)
            except zlib.error:
                pass
        for packed in re.findall(rb'base64,([A-Za-z0-9+/=\s]+)', data):
            data += base64.b64decode(packed)
        report(f'{name} tells nothing of the photo', [f'holds {mark!r}' for mark in marks if mark in data])


files_that_are_none()
designs_that_would_run()
pictures_and_paths()
text_in_a_picture()
drawings_that_reach_out()
cells_that_would_run()
privacy()
print(f'1..{number}')
for path in sorted(work.rglob('*'), reverse=True):
    path.unlink() if path.is_symlink() or not path.is_dir() else path.rmdir()
work.rmdir()
sys.exit(1 if failed else 0)
