#!/usr/bin/env bash
# Builds what a maker downloads, into dist/ or the folder that is named: Grainstack-VERSION-windows.zip and
# grainstack_VERSION_amd64.deb. Needs Debian; what is missing is installed.
set -euo pipefail
out=$(realpath -m "${1:-$(dirname "$0")/../dist}")
cd "$(dirname "$0")/.."
. cmd/needs.sh
need_tools
# shellcheck disable=SC2086
need_packages $window_packages $package_packages

version=$(cat assets/packaging/version.txt)
from=assets/packaging
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$out"
date_of_build=$(date -u -d "@${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct 2>/dev/null || date +%s)}" +%Y-%m-%d)
filled() { sed -e "s/@VERSION@/$version/g" -e "s/@DATE@/$date_of_build/g" "$1"; }

# --- Windows: one program for the window, one for commands, since a program of the desktop can't write to a prompt.
say "building for Windows (the first time takes some minutes)"
commas=$(echo "$version" | tr . ,),0
x86_64-w64-mingw32-windres -I "$from" "-DVERSION_COMMAS=$commas" "-DVERSION_TEXT=\\\"$version\\\"" "$from/windows.rc" "$work/resources.o"
zip_dir=$work/Grainstack-$version
mkdir -p "$zip_dir"
build_windows() { # NAME SUBSYSTEM
	GOOS=windows GOARCH=amd64 CGO_ENABLED=1 CC=x86_64-w64-mingw32-gcc go build -trimpath -tags migrated_fynedo \
		-ldflags "-s -w -H=$2 -linkmode=external -extldflags=$work/resources.o" -o "$zip_dir/$1" ./cmd/grainstack ||
		fail "the program doesn't build for Windows: the lines above say why"
}
build_windows Grainstack.exe windowsgui
build_windows grainstack-commands.exe windows
filled "$from/read-me-windows.txt" | sed 's/$/\r/' >"$zip_dir/read-me.txt"
sed 's/$/\r/' LICENSE >"$zip_dir/licence.txt"
sed 's/$/\r/' assets/fonts/OFL.txt >"$zip_dir/licence-of-the-typeface.txt"
rm -f "$out/Grainstack-$version-windows.zip"
(cd "$work" && zip -qr9X "$out/Grainstack-$version-windows.zip" "Grainstack-$version")

# --- Debian
say "building for Debian"
root=$work/deb
install -d "$root/DEBIAN" "$root/usr/bin" "$root/usr/share/doc/grainstack" "$root/usr/share/man/man1" "$root/usr/share/applications" \
	"$root/usr/share/metainfo" "$root/usr/share/mime/packages" "$root/usr/share/icons/hicolor/scalable/apps" \
	"$root/usr/share/icons/hicolor/48x48/apps" "$root/usr/share/icons/hicolor/256x256/apps"
go build -trimpath -tags migrated_fynedo -ldflags "-s -w -linkmode=external -extldflags=-Wl,-z,relro,-z,now" -buildmode=pie \
	-o "$root/usr/bin/grainstack" ./cmd/grainstack || fail "the program doesn't build: the lines above say why"
install -m 644 "$from/io.github.grainstack.desktop" "$root/usr/share/applications/"
filled "$from/io.github.grainstack.metainfo.xml" >"$root/usr/share/metainfo/io.github.grainstack.metainfo.xml"
install -m 644 "$from/grainstack.mime.xml" "$root/usr/share/mime/packages/grainstack.xml"
install -m 644 "$from/grainstack.svg" "$root/usr/share/icons/hicolor/scalable/apps/grainstack.svg"
install -m 644 "$from/grainstack-48.png" "$root/usr/share/icons/hicolor/48x48/apps/grainstack.png"
install -m 644 "$from/grainstack-256.png" "$root/usr/share/icons/hicolor/256x256/apps/grainstack.png"
gzip -9nc "$from/grainstack.1" >"$root/usr/share/man/man1/grainstack.1.gz"
maintainer="Grainstack maintainers <maintainers@grainstack.invalid>"
{
	printf 'Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/\nUpstream-Name: Grainstack\n\nFiles: *\n'
	printf 'Copyright: Grainstack maintainers\nLicense: Expat\n'
	sed -n '/^Permission/,$p' LICENSE | sed -e 's/^$/./' -e 's/^/ /'
	printf '\nFiles: assets/fonts/*\nCopyright: %s\nLicense: OFL-1.1\n' "$(grep -m1 -i '^copyright' assets/fonts/OFL.txt | sed 's/^Copyright *//')"
	sed -e 's/[[:space:]]*$//' -e 's/^$/./' -e 's/^/ /' assets/fonts/OFL.txt
} >"$root/usr/share/doc/grainstack/copyright"
printf 'grainstack (%s) unstable; urgency=medium\n\n  * This version.\n\n -- %s  %s\n' "$version" "$maintainer" \
	"$(date -u -R -d "$date_of_build")" | gzip -9nc >"$root/usr/share/doc/grainstack/changelog.gz"
mkdir -p "$work/shlibs/debian" && touch "$work/shlibs/debian/control"
depends=$(cd "$work/shlibs" && dpkg-shlibdeps -O "$root/usr/bin/grainstack" 2>/dev/null | sed -n 's/^shlibs:Depends=//p')
cat >"$root/DEBIAN/control" <<CONTROL
Package: grainstack
Version: $version
Section: graphics
Priority: optional
Architecture: amd64
Installed-Size: $(du -sk "$root/usr" | cut -f1)
Depends: $depends
Maintainer: $maintainer
Description: see a sculpture as a stack of plywood panels before the first cut
 Grainstack takes a scan or a model, stands it, cuts it into layers as thick as
 a planed board, hollows it, and shows at once what comes of it: the stripes of
 the veneers, every layer as a drawing, the weight, the joints and the hours at
 the router. It lays the parts out on panels and writes the workshop's files.
CONTROL
(cd "$root" && find usr -type f -print0 | sort -z | xargs -0 md5sum >DEBIAN/md5sums)
find "$root" -type d -exec chmod 755 {} + && find "$root" -type f ! -path '*/usr/bin/*' -exec chmod 644 {} +
dpkg-deb --root-owner-group -Zxz --build "$root" "$out/grainstack_${version}_amd64.deb" >/dev/null

say "built:"
(cd "$out" && du -b "Grainstack-$version-windows.zip" "grainstack_${version}_amd64.deb")
