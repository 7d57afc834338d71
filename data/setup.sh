#!/bin/sh
# Installs what is missing of data/packages-debian.txt, or of another list of that folder, and says what it does.
# Called by data/demo/run.sh and tests/run.sh with the folder of the project, and the list, as its arguments.
set -eu
root=${1:?the project folder} list=${2:-packages-debian.txt}

missing=
for name in $(sed -e 's/#.*//' -e '/^ *$/d' "$root/data/$list" | awk '{print $1}')
do
  status=$(dpkg-query -W -f='${db:Status-Status}' "$name" 2>/dev/null || true)
  [ "$status" = installed ] || missing="$missing $name"
done
[ -n "$missing" ] || { echo "Packages: all there."; exit 0; }

echo "Packages: installing$missing"
if [ "$(id -u)" = 0 ]; then as_root=
elif command -v sudo >/dev/null 2>&1; then as_root=sudo
else
  echo "These packages are missing and only root can install them. As root, run:" >&2
  echo "  apt-get install --no-install-recommends$missing" >&2
  exit 1
fi
log=$(mktemp)
if ! { $as_root apt-get update && DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y \
         --no-install-recommends $missing; } >"$log" 2>&1
then
  tail -n 15 "$log" >&2
  echo "The packages could not be installed; the last lines of apt's own words are above." >&2
  echo "Check the network and the disk, then run this again (whole log: $log)." >&2
  exit 1
fi
rm -f "$log"
