#!/usr/bin/env bash
# Installs what is missing and runs every check; ends on go test's own closing lines.
set -euo pipefail
cd "$(dirname "$0")/.."
. cmd/needs.sh
export LANG=en_US.UTF-8

need_tools
# shellcheck disable=SC2086
need_packages $window_packages $test_packages

say "gofmt"
unformatted=$(gofmt -l cmd app render slicing assets)
[ -z "$unformatted" ] || fail "these files are not gofmt-ed: $unformatted"

say "go vet"
go vet ./... || fail "go vet found the above"

# A count of inputs, not a time: go test calls it a failure when the time runs out while an input is being tried. Inputs that find
# something new are hardly made smaller: nearly the whole count went into that, and 12 new ones a target became 83.
say "fuzzing every reader for a moment"
for found in $(grep -rlE '^func Fuzz' --include='*_test.go' slicing render app cmd | sort); do
	dir=$(dirname "$found")
	for target in $(sed -nE 's/^func (Fuzz[A-Za-z0-9]+)\(.*/\1/p' "$found"); do
		go test -run '^$' -fuzz "^$target\$" -fuzztime "${FUZZTIME:-12000x}" -fuzzminimizetime 10x "./$dir" >/tmp/grainstack-fuzz.$$ 2>&1 || {
			cat /tmp/grainstack-fuzz.$$
			fail "$target in $dir found an input that breaks its reader: it is kept under $dir/testdata/fuzz"
		}
	done
done
rm -f /tmp/grainstack-fuzz.$$

say "tests with the race detector: where goroutines meet, and a day at the window"
go test -race -short ./slicing/{par,stack,chalk,panel,stoptest} ./render/{look,still} ./app/{latest,task,session,state,view,work} ||
	fail "a test failed under the race detector"
go test -race -short -run 'AScanIsShownAsRead|ALockedPartStays|LightShows' ./app || fail "the window's tests failed under the race detector"

say "the field set: meshes from outside with random settings"
if GRAINSTACK_FIELD_SET=$(cmd/fieldset.sh); then
	export GRAINSTACK_FIELD_SET
	# The test builds the program that it tries, which go test's cache knows nothing of: without -count it may tell of an older one.
	go test -count=1 -v -timeout 10m ./cmd/fieldtest || fail "a piece of the field set is not made as it should be"
	go test -timeout 15m ./app -run FieldSetAtTheWindow || fail "the window comes to something else than the commands"
	go test ./slicing/workshop ./slicing/mend -run 'OutlinesByLookingDown|ShellsAddUp|SheetsThatGraze' || fail "a piece of the field set is not measured as it should be"
	say "every command with the race detector, on two pieces"
	racing=$(mktemp -d)
	go build -race -tags migrated_fynedo -o "$racing/grainstack" ./cmd/grainstack
	GORACE="halt_on_error=1" go test -count=1 -v -timeout 15m ./cmd/fieldtest -run FieldSet -program "$racing/grainstack" -pieces tripod,knot1 -tallest 40 ||
		fail "a command failed under the race detector"
	rm -rf "$racing"
	unset GRAINSTACK_FIELD_SET # it was tried
elif [ $? -ne 3 ]; then
	fail "the field set can't be had"
fi

say "the packages for Windows and Debian"
if command -v dpkg-query >/dev/null 2>&1; then
	cmd/package_check.sh || fail "a package is not as it should be"
else
	say "SKIPPED: this is no Debian, so the packages were neither built nor checked"
fi

say "all tests but the field set's, which was tried or said to be skipped above"
# shellcheck disable=SC2046
go test -timeout 20m $(go list ./... | grep -v '/cmd/fieldtest$')
