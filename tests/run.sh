#!/bin/sh
# Sets up, builds with warnings as errors, and runs every test; the last line counts them.
# tests/run.sh sanitized: the same under the address and undefined-behaviour sanitizers, without the window and
# the command line (a quarter of an hour alone) and without what repeats itself thousands of times (suite slow).
# tests/run.sh fuzzed: every fuzz target for a minute, built by clang.
set -u
here=$(cd "$(dirname "$0")/.." && pwd)
build=${BEDLINE_TEST_BUILD:-$here/build-test}
options=-Dwerror=true times=3 suites= targets=
if [ "${1:-}" = sanitized ]
then
  build=$build-sanitized times=20 suites="--no-suite slow"
  options="-Dwerror=true -Db_sanitize=address,undefined -Db_lundef=false --buildtype=debug"
  for suite in base geometry photo survey site plants design layout fit takeoff care draw proposal fuzz
  do suites="$suites --suite $suite"
  done
  export ASAN_OPTIONS=detect_leaks=1:fast_unwind_on_malloc=0 G_SLICE=always-malloc \
         LSAN_OPTIONS="suppressions=$here/tests/lsan.supp" \
         UBSAN_OPTIONS=print_stacktrace=1:halt_on_error=1
elif [ "${1:-}" = fuzzed ]
then
  build=$build-fuzzed suites="--suite minute" options= targets=fuzzers
  CC=clang; export CC
fi

say () { printf '\n== %s\n' "$*"; }
fail () { echo "$*" >&2; echo "0 passed, 1 failed"; exit 1; }

say "Packages"
sh "$here/data/setup.sh" "$here" || fail "Setting up failed; see above for what to do."

if [ -n "$targets" ]
then
  sh "$here/data/setup.sh" "$here" packages-fuzzing.txt || echo "Going on with what there is."
fi

if [ -n "$suites" ]
then
  probe=$(mktemp)
  if ! { echo 'int main (void) { return 0; }' \
         | ${CC:-cc} -x c -fsanitize=address,undefined${targets:+,fuzzer-no-link} -o "$probe" - \
         && "$probe"; } >"$probe.log" 2>&1
  then
    cat "$probe.log"; rm -f "$probe" "$probe.log"
    # gcc brings its sanitizers along, so they are to work; clang's are packages that may not be had.
    ! ${CC:-cc} --version 2>/dev/null | grep -q 'Free Software Foundation' \
      || fail "The sanitizers of ${CC:-cc} do not work on this machine; the lines above say why. Nothing was run."
    echo "The sanitizers do not work on this machine; the lines above say why. Nothing was run."
    echo "0 passed, 0 failed"; exit 0
  fi
  rm -f "$probe" "$probe.log"
fi

say "Build"
PKG_CONFIG_PATH=${PKG_CONFIG_PATH:-}; export PKG_CONFIG_PATH
if [ ! -f "$build/build.ninja" ]
then
  meson setup "$build" "$here" $options >"$here/.setup.log" 2>&1 \
    || { tail -n 20 "$here/.setup.log" >&2; fail "meson could not set up; see the lines above."; }
  rm -f "$here/.setup.log"
fi
ninja -C "$build" $targets >"$build/build.log" 2>&1 \
  || { grep -E 'error|warning|FAILED' "$build/build.log" | head -n 30 >&2
       fail "The build failed; the whole log is $build/build.log."; }
echo "built in $build"

say "Tests"
home=$(mktemp -d); trap 'rm -rf "$home"' EXIT INT TERM
export HOME="$home" XDG_DATA_HOME="$home/data" XDG_CONFIG_HOME="$home/config" \
       XDG_CACHE_HOME="$home/cache" XDG_RUNTIME_DIR="$home/run" TMPDIR="$home/tmp"
mkdir -p "$TMPDIR" "$XDG_RUNTIME_DIR"
chmod 711 "$home" "$TMPDIR" # some tests read as a person without rights
chmod 700 "$XDG_RUNTIME_DIR"
xvfb-run -a -s "-screen 0 1600x1000x24" \
  meson test -C "$build" --print-errorlogs --no-rebuild -t $times $suites
status=$?
log=$build/meson-logs/testlog.junit.xml
counts=$(python3 - "$log" "$status" <<'EOF'
import sys, xml.etree.ElementTree as tree
passed = failed = skipped = 0
try:
    for case in tree.parse(sys.argv[1]).getroot().iter('testcase'):
        if case.find('failure') is not None or case.find('error') is not None:
            failed += 1
        elif case.find('skipped') is not None:
            skipped += 1
        else:
            passed += 1
except (OSError, tree.ParseError):
    pass
if passed + failed == 0 or (sys.argv[2] != '0' and failed == 0):
    failed += 1
print(f'{passed} passed, {failed} failed' + (f', {skipped} skipped' if skipped else ''))
EOF
)
echo "$counts"
exit $status
