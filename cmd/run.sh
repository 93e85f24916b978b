#!/usr/bin/env bash
# Installs what is missing, builds the program and opens its window: on the demo piece, or on the mesh or job that is named.
set -euo pipefail
here=$PWD
cd "$(dirname "$0")/.."
. cmd/needs.sh

need_tools
# shellcheck disable=SC2086
need_packages $window_packages
say "building (the first time takes some minutes)"
go build -tags migrated_fynedo -o bin/grainstack ./cmd/grainstack || fail "the program doesn't build: the lines above say why"
[ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ] || fail "there is no screen to open a window on: start this from a desktop session"
say "opening the window"
program=$PWD/bin/grainstack
cd "$here"
exec "$program" "$@"
