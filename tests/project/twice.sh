#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds the committed sources in two folders of different names and compares what comes out, byte by byte.
set -u
here=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
for name in one another/with-a-longer-name
do
  mkdir -p "$work/$name"
  git -C "$here" archive HEAD | tar -x -C "$work/$name" || exit 1
  meson setup "$work/$name/build" "$work/$name" >"$work/log" 2>&1 \
    && ninja -C "$work/$name/build" >"$work/log" 2>&1 \
    && DESTDIR="$work/$name/installed" meson install -C "$work/$name/build" --no-rebuild --quiet >"$work/log" 2>&1 \
    || { tail -n 20 "$work/log"; exit 1; }
done
cd "$work" || exit 1
other=another/with-a-longer-name/installed
{ (cd one/installed && find . -type f); (cd "$other" && find . -type f); } | sort -u >files
count=0 differ=0
while read -r file
do
  count=$((count + 1))
  if cmp -s "one/installed/$file" "$other/$file"
  then echo "same    $(sha256sum "one/installed/$file" | cut -c1-16)  $file"
  else echo "DIFFERS $file"; differ=$((differ + 1))
  fi
done <files
echo "$count files, $differ differ"
[ "$count" -ge 30 ] || { echo "fewer than 30 files were installed: too few for all of it"; exit 1; }
[ "$differ" = 0 ]
