#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Gives the driver a screen, a session bus and a home of its own. usage: drive.sh SCRIPT PROGRAM DEMO [PICTURES]
set -eu
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT INT TERM
export HOME="$scratch" XDG_DATA_HOME="$scratch/data" XDG_CONFIG_HOME="$scratch/config" \
  XDG_CACHE_HOME="$scratch/cache" XDG_RUNTIME_DIR="$scratch/run" GTK_A11Y=atspi \
  GSK_RENDERER=cairo GDK_DEBUG=gl-disable GTK_USE_PORTAL=0 GSETTINGS_BACKEND=memory
mkdir -p "$XDG_RUNTIME_DIR" "$XDG_DATA_HOME" && chmod 700 "$XDG_RUNTIME_DIR"
xvfb-run -a -s "-screen 0 1400x900x24" dbus-run-session -- \
  /usr/bin/python3 "$1" "$2" "$3" "$scratch" ${4:+"$4"} 2>&1
