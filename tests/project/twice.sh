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
cd "$work/one/installed" || exit 1
differ=0
for file in $(find . -type f | sort)
do
  if cmp -s "$file" "$work/another/with-a-longer-name/installed/$file"
  then echo "same    $(sha256sum "$file" | cut -c1-16)  $file"
  else echo "DIFFERS $file"; differ=$((differ + 1))
  fi
done
echo "$(find . -type f | wc -l) files, $differ differ"
[ "$differ" = 0 ]
