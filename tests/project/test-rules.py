#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The house rules that a compiler can't see: which folder may include which, sizes, headers."""
import pathlib
import re
import sys

ROOT = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else '.').resolve()
ORDER = ['base', 'geometry', 'photo', 'survey', 'site', 'plants', 'design', 'layout', 'fit',
         'takeoff', 'care', 'draw', 'proposal', 'studio']
PURE = {'geometry', 'photo', 'survey', 'site', 'plants', 'layout', 'fit', 'takeoff', 'care', 'draw', 'proposal'}
FILE_HARD = 700
FUNCTION_HARD = 100
MARKS = re.compile(r'\bTO' r'DO\b|FIX' r'ME|\bX' r'XX\b|[Nn]ot implemented')
CLOCK = re.compile(r'\b(g_get_real_time|g_get_monotonic_time|g_get_current_time|g_date_time_new_now\w*'
                   r'|g_date_set_time\w*|clock_gettime|gettimeofday|g_timer_new|g_random_\w+|g_rand_new|setlocale)\b'
                   r'|\b(time|clock|s?rand|d?rand48|random) \(')
TEXTS = {'.c', '.h', '.py', '.sh', '.build', '.ui', '.css', '.xml', '.json', '.plants', '.md', '.html', '.in', '.txt',
         '.csv', '.dict', '.inc', '.page', '.supp', '.svg'}

number = 0
failed = 0


def report(name, problems):
    global number, failed
    number += 1
    failed += bool(problems)
    print(f'{"not ok" if problems else "ok"} {number} {name}')
    for problem in problems:
        print(f'# {problem}')


def sources(*suffixes):
    return sorted(p for p in (ROOT / 'src').rglob('*') if p.suffix in suffixes)


def rel(path):
    return path.relative_to(ROOT)


def includes():
    for path in sources('.c', '.h'):
        folder = path.relative_to(ROOT / 'src').parts[0]
        if folder not in ORDER:
            continue
        allowed = set(ORDER[:ORDER.index(folder) + 1])
        for line, text in enumerate(path.read_text().splitlines(), 1):
            found = re.match(r'\s*#\s*include\s*[<"]([^>"]+)[>"]', text)
            if not found:
                continue
            first = found[1].split('/')[0]
            if first in ORDER and first not in allowed:
                yield f'{rel(path)}:{line}: {folder} may not include {found[1]}'
            if first in ('gtk', 'gdk', 'gsk') and folder != 'studio':
                yield f'{rel(path)}:{line}: only studio may see GTK'


def icons():
    """The window draws its own icons from their outlines (src/studio/icon.c), which know three steps."""
    for path in sorted((ROOT / 'icons').glob('bl-*-symbolic.svg')):
        outlines = re.findall(r'\sd="([^"]*)"', path.read_text())
        if len(outlines) != 1 or not re.fullmatch(r'(M-?[\d.]+ -?[\d.]+(L-?[\d.]+ -?[\d.]+)+Z)+', outlines[0]):
            yield f'{rel(path)}: draw it as one path of M, L and Z, each with its two numbers'


def heads():
    for path in sources('.c', '.h'):
        lines = path.read_text().splitlines()[:2]
        if not lines or 'SPDX-License-Identifier: GPL-3.0-or-later' not in lines[0]:
            yield f'{rel(path)}: the first line is the SPDX line'
        elif len(lines) < 2 or not lines[1].startswith('/*'):
            yield f'{rel(path)}: the second line says what the file is for'


def sizes():
    for path in sources('.c', '.h'):
        lines = path.read_text().splitlines()
        if len(lines) > FILE_HARD:
            yield f'{rel(path)}: {len(lines)} lines, more than {FILE_HARD}'
        start = None
        for line, text in enumerate(lines, 1):
            if text == '{':
                start = line
            elif text.startswith('}') and start is not None:
                if path.suffix == '.c' and text == '}' and line - start > FUNCTION_HARD:
                    yield f'{rel(path)}:{start}: a function of {line - start} lines'
                start = None


def marks():
    for folder in ('src', 'tests', 'data', 'ui'):
        for path in sorted(p for p in (ROOT / folder).rglob('*') if p.suffix in TEXTS and p.is_file()):
            for line, text in enumerate(path.read_text(errors='replace').splitlines(), 1):
                if MARKS.search(text):
                    yield f'{rel(path)}:{line}: {text.strip()[:120]}'


def pure():
    for path in sources('.c'):
        if path.relative_to(ROOT / 'src').parts[0] not in PURE:
            continue
        for line, text in enumerate(path.read_text().splitlines(), 1):
            if CLOCK.search(text):
                yield f'{rel(path)}:{line}: no clock, locale or unseeded randomness here'


def workers():
    """A thread that works for a task may drop it last, and its source with it: no window may end there."""
    for path in sources('.c'):
        for found in re.finditer(r'\bg_task_new \((?!NULL,)', text := path.read_text()):
            line = text.count('\n', 0, found.start()) + 1
            yield f'{rel(path)}:{line}: a task owns no object; bl_work_new (studio/work.h) keeps it'


def records_listed():
    text = (ROOT / 'DEVELOPERS.md').read_text()
    for folder in ORDER:
        if f'{folder}/' not in text:
            yield f'DEVELOPERS.md does not say what src/{folder}/ is'


CHECKS = [('folders include only folders above them', includes),
          ('every file says its licence and its purpose', heads),
          ('files and functions keep to their sizes', sizes),
          ('nothing is left undone', marks),
          ('computing folders take no clock and no chance', pure),
          ('tasks own nothing of the interface', workers),
          ('icons are outlines the window can draw', icons),
          ('every folder is explained', records_listed)]
print(f'1..{len(CHECKS)}')
for name, check in CHECKS:
    report(name, list(check()))
sys.exit(1 if failed else 0)
