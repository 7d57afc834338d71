# SPDX-License-Identifier: GPL-3.0-or-later
"""Three analysers over every file of src/, at zero reports: cppcheck, clang-tidy with the clang analyser, gcc -fanalyzer.

lint.py BUILD [-j N] [--only TOOL] [PART-OF-A-PATH...]      BUILD is a folder that ninja has built.

What was found in a file is kept in BUILD/lint.json; a file is analysed again when it, a header of ours it includes, or
the way it is analysed has changed, so a run that is stopped goes on where it was.
A report that is no fault stands in lint.supp with its reason; an entry that silences nothing is itself a report.
Takes about a quarter of an hour on two processors, so it is a command of its own and no test.
"""

import argparse
import concurrent.futures
import fnmatch
import functools
import hashlib
import inspect
import json
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import threading

ROOT = pathlib.Path(__file__).resolve().parents[2]
SUPPRESSIONS = pathlib.Path(__file__).with_name('lint.supp')
TOOLS = {'cppcheck': 'cppcheck', 'clang-tidy': 'clang-tidy', 'gcc': 'gcc'}

REPORT = re.compile(r'^(?P<path>[^\s:]+):(?P<line>\d+):(?:\d+:)? (?:warning|error|style|performance|portability): '
                    r'(?P<words>.*?) \[(?P<name>[\w.,+=-]+)\]$', re.M)


def relative(path, folder):
    full = pathlib.Path(folder, path).resolve()
    return str(full.relative_to(ROOT)) if full.is_relative_to(ROOT) else str(full)


def reports(tool, text, folder):
    found = set()
    for m in REPORT.finditer(text):
        name = m['name'].split(',')[0].replace('-Wanalyzer-', '')
        found.add((tool, name, relative(m['path'], folder), int(m['line']), m['words']))
    return found


UNFINISHED = 'unfinished'


def run(command, folder):
    """What the tool said, with a report of our own if it did not come to its end."""
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, errors='replace')
    text = done.stdout + done.stderr
    # clang-tidy's status is not 0 either when what it reported counts as an error.
    told = command[0] == 'clang-tidy' and done.returncode > 0 and REPORT.search(text)
    if done.returncode != 0 and not told:
        source = next(w for w in reversed(command) if w.endswith('.c'))
        last = ' '.join(text.split())[-200:]
        text += f'\n{source}:1: error: ended with status {done.returncode}: {last} [{UNFINISHED}]\n'
    return text


def cppcheck(entry):
    # Without GLib's headers (gtk.cfg knows its functions), so their macros are named here.
    text = run(['cppcheck', '--quiet', '--enable=warning,performance,portability', '--library=gtk', '--inline-suppr',
                '--std=c11', '-Isrc', '-DNULL=((void*)0)', '-DG_GNUC_PRINTF(a,b)=', '-DG_GNUC_FORMAT(a)=',
                '-DG_GNUC_NULL_TERMINATED=',
                # An array takes over what the value put into it owns.
                '-Dg_array_append_val(a,v)=array_takes_over(a,v)',
                '--template={file}:{line}: warning: {message} [{id}]', '--template-location=', entry['source']], ROOT)
    return reports('cppcheck', text, ROOT)


# clang-tidy 14 does not know that g_autofree, g_autoptr and g_auto free a variable when it goes out of reach.
FREED = re.compile(r"(?:leak of memory pointed to by|[Vv]alue stored to) '(\w+)")


def frees_itself(report):
    named = FREED.search(report[4])
    return named is not None and re.search(
        rf'\bg_auto(?:free|ptr|list|\s*\()[^;{{}}]*\b{named[1]}\b', (ROOT / report[2]).read_text()) is not None


def clang_tidy(entry):
    text = run(['clang-tidy', '--quiet', '-p', entry['build'], '--extra-arg=-Wno-everything',
                f'--header-filter={re.escape(str(ROOT / "src"))}/.*', str(ROOT / entry['source'])], ROOT)
    return {r for r in reports('clang-tidy', text, entry['directory']) if not frees_itself(r)}


def gcc(entry):
    words = shlex.split(entry['command'])
    at = words.index('-o')
    words[at + 1] = '/dev/null'
    words = [w for w in words if not w.startswith(('-M', '-Werror', '-fdiagnostics-color'))
             and w != 'ccache' and not w.endswith('.d')]
    text = run(words + ['-fanalyzer', '-fdiagnostics-path-format=none'], entry['directory'])
    return {r for r in reports('gcc', text, entry['directory']) if '-W' not in r[1]}


def sources(build, parts):
    found = {}
    for entry in json.loads((build / 'compile_commands.json').read_text()):
        source = relative(entry['file'], entry['directory'])
        if source.startswith('src/') and (not parts or any(p in source for p in parts)):
            found.setdefault(source, dict(entry, source=source, build=str(build)))
    return [found[k] for k in sorted(found)]


@functools.cache
def included(path):
    """The file's own bytes and those of every header of src/ that it includes."""
    seen, wanted = {}, [path]
    while wanted:
        at = wanted.pop()
        if at in seen or not at.is_file():
            continue
        seen[at] = at.read_bytes()
        for name in re.findall(rb'^#include "([^"]+)"', seen[at], re.M):
            wanted += [ROOT / 'src' / name.decode(), at.parent / name.decode()]
    return hashlib.sha256(b''.join(seen[k] for k in sorted(seen))).hexdigest()


class Ledger:
    """What each tool found in each file, kept as it is found."""

    def __init__(self, path):
        self.path, self.lock = path, threading.Lock()
        self.rows = json.loads(path.read_text()) if path.exists() else {}
        self.checks = (ROOT / '.clang-tidy').read_text()

    def reports(self, tool, analyse, entry):
        key, how = f'{tool} {entry["source"]}', inspect.getsource(analyse) + (self.checks if tool == 'clang-tidy' else '')
        state = hashlib.sha256(how.encode()).hexdigest() + included(ROOT / entry['source'])
        if self.rows.get(key, {}).get('state') != state:
            found = sorted(analyse(entry))
            if any(r[1] == UNFINISHED for r in found):
                return set(found)
            with self.lock:
                self.rows[key] = {'state': state, 'found': found}
                new = self.path.with_suffix('.new')
                new.write_text(json.dumps(self.rows))
                os.replace(new, self.path)
        return {tuple(r) for r in self.rows[key]['found']}


def suppressions():
    rows = []
    for number, line in enumerate(SUPPRESSIONS.read_text().splitlines(), 1):
        rule, _, reason = line.partition('#')
        if not rule.strip():
            continue
        fields = rule.split()
        if len(fields) != 3 or not reason.strip():
            sys.exit(f'lint.supp:{number}: should be “tool report path  # reason”')
        rows.append((number, *fields))
    return rows


def silenced(report, rows, used):
    for number, tool, name, path in rows:
        if (report[0], report[1]) == (tool, name) and fnmatch.fnmatch(report[2], path):
            used.add(number)
            return True
    return False


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument('build', type=pathlib.Path)
    parser.add_argument('-j', type=int, default=2)
    parser.add_argument('--only', choices=sorted(TOOLS))
    parser.add_argument('parts', nargs='*')
    args = parser.parse_intermixed_args()
    build = args.build.resolve()
    run_tool = {'cppcheck': cppcheck, 'clang-tidy': clang_tidy, 'gcc': gcc}
    tools = [args.only] if args.only else list(run_tool)
    for tool in tools:
        if shutil.which(TOOLS[tool]) is None:
            sys.exit(f'{tool} is not installed')
    entries, rows, used, left = sources(build, args.parts), suppressions(), set(), 0
    ledger = Ledger(build / 'lint.json')
    with concurrent.futures.ThreadPoolExecutor(args.j) as pool:
        for tool in tools:
            every = set().union(*pool.map(functools.partial(ledger.reports, tool, run_tool[tool]), entries))
            shown = sorted(r for r in every if not silenced(r, rows, used))
            for r in shown:
                print(f'{r[2]}:{r[3]}: {r[0]} {r[1]}: {r[4]}')
            print(f'{tool}: {len(entries)} files, {len(every)} reports, {len(every) - len(shown)} of them with a reason')
            left += len(shown)
    if not args.parts and not args.only:
        for number, *rule in rows:
            if number not in used:
                print(f'lint.supp:{number}: silences nothing: {" ".join(rule)}')
                left += 1
    print(f'{left} reports left')
    return left != 0


if __name__ == '__main__':
    sys.exit(main())
