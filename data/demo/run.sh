#!/bin/sh
# Builds Bedline, makes the demo design with its three alternatives, writes out/, and opens the studio.
set -u
here=$(cd "$(dirname "$0")/../.." && pwd)
build=${BEDLINE_BUILD:-$here/build}
out=$here/out
demo=$here/data/demo

say () { printf '\n== %s\n' "$*"; }
fail () { echo "$*" >&2; exit 1; }
run () { echo "  bedline $*"; "$build/src/bedline" "$@" || fail "This step failed; the sentence above says why."; }

say "Packages"
sh "$here/data/setup.sh" "$here" || fail "Setting up failed; see above for what to do."

say "Build (a few minutes the first time)"
if [ ! -f "$build/build.ninja" ]
then
  meson setup "$build" "$here" >"$here/.setup.log" 2>&1 \
    || { tail -n 20 "$here/.setup.log" >&2; fail "meson could not set up; see the lines above."; }
  rm -f "$here/.setup.log"
fi
ninja -C "$build" >"$build/build.log" 2>&1 \
  || { tail -n 30 "$build/build.log" >&2; fail "The build failed; the whole log is $build/build.log."; }

say "The demo: the strip between the front walk and the car park of the Harbour Lane Library"
mkdir -p "$out" || fail "The folder $out can't be made; check its permissions."
export BEDLINE_DATA="$build/data/plants"
design=$out/harbour-lane.bedline
rm -f "$design"
run draft "$demo/harbour-lane.sheet.json" -o "$design"
run measure "$design"
for name in A B C
do
  run picture "$design" --alternative "$name" --view photo --month 7.5 --year 3 --width 2016 -o "$out/alternative-$name.png"
done
run picture "$design" --alternative A --view plan --month 7.5 --year 3 -o "$out/plan-A.pdf"
run picture "$design" --alternative A --view plan --month 7.5 --year 3 --width 2000 -o "$out/plan-A.png"
run proposal "$design" -o "$out/proposal.pdf"
run crew "$design" --alternative A -o "$out/crew.pdf"
run crew "$design" --alternative A --language es -o "$out/crew-es.pdf"
run calendar "$design" --alternative A -o "$out/care.ics"
run calendar "$design" --alternative A -o "$out/care.csv"
run order "$design" --alternative A -o "$out/order.csv"
# A check that finds something is no failure: the warm alternative is there to be found out.
for name in A C
do
  echo "  bedline fit --alternative $name"
  "$build/src/bedline" fit "$design" --alternative "$name" >"$out/fit-$name.txt"
  [ $? -le 1 ] || fail "This step failed; the sentence above says why."
done
say "Written to $out"
ls "$out"

if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ] && [ -z "${BEDLINE_NO_WINDOW:-}" ]
then
  say "Opening the studio on the demo"
  exec "$build/src/bedline" "$design"
fi
echo "No display: the studio is not opened. With one, run: $build/src/bedline $design"
