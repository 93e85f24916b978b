# Shared by run.sh and test.sh: says what it does, installs what is missing, skips what is there.

say() { printf '== %s\n' "$*"; }
fail() { printf 'grainstack: %s\n' "$*" >&2; exit 1; }

# as_root runs a command with the rights to install packages: as it is for root, else with sudo, which it announces.
as_root() {
	if [ "$(id -u)" -eq 0 ]; then
		"$@"
	elif command -v sudo >/dev/null 2>&1; then
		say "sudo is needed for: $*"
		sudo "$@"
	else
		fail "installing packages needs root: run as root, or install sudo, then try again"
	fi
}

# need_packages installs those of the named Debian packages that are not there yet.
need_packages() {
	if ! command -v dpkg-query >/dev/null 2>&1; then
		say "this is no Debian: make sure of the like of: $*"
		return
	fi
	missing=""
	for p in "$@"; do
		dpkg-query -W -f '${db:Status-Abbrev}' "$p" 2>/dev/null | grep -q '^ii' || missing="$missing $p"
	done
	if [ -z "$missing" ]; then
		say "packages: all there"
		return
	fi
	say "installing packages:$missing"
	as_root apt-get update -qq || fail "the list of packages can't be had: check the network, then try again"
	# shellcheck disable=SC2086
	as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null ||
		fail "some of these packages can't be installed:$missing"
}

# need_tools looks for what the project can't install for you.
need_tools() {
	command -v go >/dev/null 2>&1 || fail "Go is missing: install Go 1.26 or later from your distribution or go.dev, then try again"
	command -v "${CC:-cc}" >/dev/null 2>&1 || command -v gcc >/dev/null 2>&1 ||
		fail "a C compiler is missing: install gcc, then try again"
}

# What the window needs to build and to open.
window_packages="pkg-config libgl1-mesa-dev libgl1-mesa-dri libx11-dev libxi-dev libxcursor-dev libxrandr-dev libxinerama-dev libxxf86vm-dev libxkbcommon-dev libwayland-dev"
# What the tests of a real window and of printed sheets need besides.
test_packages="xvfb xdotool imagemagick poppler-utils python3-ezdxf"
# What building packages needs besides, and what checking them does.
package_packages="gcc-mingw-w64-x86-64 zip dpkg-dev xz-utils"
package_test_packages="wine64 wine desktop-file-utils appstream lintian unzip shared-mime-info"
