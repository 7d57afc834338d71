#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Gives the driver a screen, a session bus and a home of its own; what the bus has to say is shown
# only after a failure. usage: drive.sh SCRIPT PROGRAM DEMO [PICTURES]
set -eu
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT INT TERM
export HOME="$scratch" XDG_DATA_HOME="$scratch/data" XDG_CONFIG_HOME="$scratch/config" \
  XDG_CACHE_HOME="$scratch/cache" XDG_RUNTIME_DIR="$scratch/run" GTK_A11Y=atspi \
  GSK_RENDERER=cairo GDK_DEBUG=gl-disable GTK_USE_PORTAL=0 GSETTINGS_BACKEND=memory
unset G_DEBUG
mkdir -p "$XDG_RUNTIME_DIR" "$XDG_DATA_HOME" && chmod 700 "$XDG_RUNTIME_DIR"
status=0
xvfb-run -a -s "-screen 0 1400x900x24" dbus-run-session -- \
  sh -c 'exec /usr/bin/python3 "$@" >&9' sh "$1" "$2" "$3" "$scratch" ${4:+"$4"} \
  9>&1 >"$scratch/bus.txt" 2>"$scratch/errors.txt" || status=$?
if [ "$status" -ne 0 ]; then
  sed 's/^/# /' "$scratch/errors.txt"
fi
exit "$status"
