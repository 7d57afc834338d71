#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs into an empty prefix and runs what was installed, without the build's surroundings.
set -u
build=$1
prefix=$(mktemp -d)
trap 'rm -rf "$prefix"' EXIT INT TERM
echo "1..3"
if DESTDIR="$prefix" meson install -C "$build" --no-rebuild --quiet >"$prefix/log" 2>&1
then echo "ok 1 installs"; else sed 's/^/# /' "$prefix/log"; echo "not ok 1 installs"; exit 1; fi
missing=
for name in bin/bedline share/bedline/plants.db share/applications/org.bedline.Studio.desktop \
            share/metainfo/org.bedline.Studio.metainfo.xml \
            share/mime/packages/org.bedline.Studio.mime.xml share/man/man1/bedline.1 \
            share/icons/hicolor/scalable/apps/org.bedline.Studio.svg \
            share/locale/es/LC_MESSAGES/bedline.mo
do
  [ -s "$(find "$prefix" -path "*/$name" | head -n 1)" ] || missing="$missing $name"
done
if [ -z "$missing" ]; then echo "ok 2 everything is there"; else echo "not ok 2 missing:$missing"; exit 1; fi
program=$(find "$prefix" -path '*/bin/bedline')
data=$(dirname "$(find "$prefix" -name plants.db)")
if BEDLINE_DATA="$data" XDG_DATA_HOME="$prefix/xdg" "$program" plants echinacea | grep -q echinacea-purpurea
then echo "ok 3 the installed program finds its plants"
else echo "not ok 3 the installed program finds its plants"; exit 1; fi
