#!/usr/bin/env bash
# NEVER RUN: written without a Mac at hand. Everything but the window is compiled and vetted for macOS by cmd/package_check.sh;
# this recipe, the bundle and the window on macOS have not been tried. Whoever runs it first: please mend this head with it.
#
# On a Mac with Go 1.26 or later and Xcode's command line tools: builds dist/Grainstack.app for the machine's own processor.
set -euo pipefail
cd "$(dirname "$0")/../../.."
version=$(cat assets/packaging/version.txt)
app=dist/Grainstack.app/Contents
mkdir -p "$app/MacOS" "$app/Resources"
CGO_ENABLED=1 go build -trimpath -tags migrated_fynedo -ldflags '-s -w' -o "$app/MacOS/grainstack" ./cmd/grainstack
sed "s/@VERSION@/$version/g" assets/packaging/macos/Info.plist >"$app/Info.plist"
icons=$(mktemp -d)/grainstack.iconset
mkdir -p "$icons"
for size in 16 32 128 256; do
	sips -z $size $size assets/packaging/grainstack-256.png --out "$icons/icon_${size}x${size}.png" >/dev/null
done
iconutil -c icns -o "$app/Resources/grainstack.icns" "$icons"
cp LICENSE assets/fonts/OFL.txt "$app/Resources/"
codesign --force --sign - dist/Grainstack.app # for this machine alone: handing it out wants a signature that Apple knows
"$app/MacOS/grainstack" -version
