#!/usr/bin/env bash
# Builds the packages and checks them, or checks those in the folder that is named: the Debian one by Debian's own tools, the Windows
# one under wine, where its commands have to give what the Linux program gives, byte for byte, and its window to open and close. Real
# drivers and folders held open by another program are what wine can't show.
set -euo pipefail
dist=${1:+$(realpath "$1")}
cd "$(dirname "$0")/.."
. cmd/needs.sh
need_tools
# shellcheck disable=SC2086
need_packages $window_packages $test_packages $package_packages $package_test_packages

work=$(mktemp -d)
export WINEPREFIX=$work/wine WINEDEBUG=-all WINEDLLOVERRIDES="mscoree,mshtml="
screen=
finish() {
	wineserver -k >/dev/null 2>&1 || true
	[ -z "$screen" ] || kill "$screen" 2>/dev/null || true
	rm -rf "$work"
}
trap finish EXIT

[ -n "$dist" ] || { dist=$work/dist && cmd/package.sh "$dist"; }
version=$(cat assets/packaging/version.txt)

say "the Debian package"
deb=$dist/grainstack_${version}_amd64.deb
lintian --fail-on error,warning --suppress-tags initial-upload-closes-no-bugs "$deb" || fail "lintian found the above in the package"
dpkg -x "$deb" "$work/deb"
desktop-file-validate "$work/deb/usr/share/applications/io.github.grainstack.desktop" || fail "the desktop entry is not valid"
appstreamcli validate --no-net "$work/deb/usr/share/metainfo/io.github.grainstack.metainfo.xml" || fail "the AppStream data is not valid"
update-mime-database "$work/deb/usr/share/mime" 2>/dev/null
grep -q 'application/x-grainstack-job:\*.grainstack' "$work/deb/usr/share/mime/globs" || fail "the job file has no MIME type"
linux=$work/deb/usr/bin/grainstack
[ "$("$linux" -version)" = "grainstack $version" ] || fail "the program doesn't say its version"

say "the Windows package"
unzip -q "$dist/Grainstack-$version-windows.zip" -d "$work/zip"
folder=$work/zip/Grainstack-$version
Xvfb -displayfd 3 -screen 0 1280x900x24 -nolisten tcp 3>"$work/display" 2>/dev/null &
screen=$!
for _ in $(seq 100); do [ -s "$work/display" ] && break; sleep 0.1; done
export DISPLAY=:$(cat "$work/display") LANG=en_US.UTF-8
wineboot -i >/dev/null 2>&1 || true
x86_64-w64-mingw32-gcc -shared -o "$WINEPREFIX/drive_c/windows/system32/bcryptprimitives.dll" assets/packaging/bcryptprimitives.c -ladvapi32

piece=testdata/torus.stl
same() { # WHAT, then the words of a command that writes to standard output
	what=$1 && shift
	"$linux" "$@" >"$work/here" || fail "$what fails"
	wine "$folder/grainstack-commands.exe" "$@" >"$work/there" || fail "$what fails on Windows"
	cmp "$work/here" "$work/there" || fail "$what differs on Windows"
	echo "the same: $what"
}
same help help
same report report $piece -height 90 -wall 8
same directions directions $piece -height 90 -n 12
for view in finished layer stick; do
	"$linux" picture $piece -height 90 -view $view -o "$work/here.png" >/dev/null
	(cd "$work" && wine "$folder/grainstack-commands.exe" picture "$OLDPWD/$piece" -height 90 -view $view -o there.png >/dev/null)
	cmp "$work/here.png" "$work/there.png" || fail "the picture $view differs on Windows"
	echo "the same: picture $view"
done
"$linux" make $piece -height 90 -out "$work/made-here" >/dev/null
(cd "$work" && wine "$folder/grainstack-commands.exe" make "$OLDPWD/$piece" -height 90 -out made-there >/dev/null)
diff -r "$work/made-here" "$work/made-there" || fail "the folder made differs on Windows"
echo "the same: all $(find "$work/made-here" -type f | wc -l) files made"

GOOS=windows CGO_ENABLED=0 go test -short -vet=off -exec "$PWD/cmd/under_wine.sh" \
	./slicing/{geom,disk,mesh,unit,stock,sets,plane,phrase,par,glue,chalk,stack,sample,solidtest} \
	./render/{draw,frame,tone,swatch,sheet,book,look} || fail "a test fails on Windows"

wine "$folder/Grainstack.exe" >"$work/window.log" 2>&1 &
found=$(timeout 120 xdotool search --sync --onlyvisible --name '^Grainstack' | tail -1) || fail "no window opened under wine"
sleep 5
xdotool key --window "$found" ctrl+q 2>/dev/null
for _ in $(seq 60); do xdotool search --name '^Grainstack' >/dev/null 2>&1 || break; sleep 0.5; done
! xdotool search --name '^Grainstack' >/dev/null 2>&1 || fail "the window under wine doesn't close"
echo "the window opens under wine and closes"

say "what can be seen of macOS from here: vet without the window"
GOOS=darwin CGO_ENABLED=0 go vet ./slicing/... ./render/... ./assets || fail "go vet for macOS found the above"
GOOS=windows CGO_ENABLED=0 go vet ./slicing/... ./render/... ./assets || fail "go vet for Windows found the above"
