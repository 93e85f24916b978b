#!/usr/bin/env bash
# Measures what README's table of speeds says, on this machine, and prints that table with what came out: every benchmark, and
# visits to the real window with the demo piece and with the meshes that are named. Takes some half an hour on two cores; whatever
# else runs meanwhile falsifies it.
#
#   cmd/speed.sh [PIECE...]
set -euo pipefail
pieces=""
for p in "$@"; do
	[ -f "$p" ] || { echo "grainstack: there is no file $p to measure with" >&2; exit 1; }
	pieces="$pieces:$(realpath "$p")"
done
cd "$(dirname "$0")/.."
. cmd/needs.sh
export LANG=en_US.UTF-8

need_tools >&2
# shellcheck disable=SC2086
need_packages $window_packages $test_packages >&2
results=$(mktemp)
trap 'rm -f "$results"' EXIT
for dir in $(grep -rlE '^func Benchmark' --include='*_test.go' slicing render app | xargs -n 1 dirname | sort -u); do
	say "$dir" >&2
	times=3x
	case $dir in *realwindow | *still | *compass | *wayout | *mend | *register | *join | *panel) times=1x ;; esac
	GRAINSTACK_WINDOW_PIECES=$pieces go test -run '^$' -bench . -benchtime "$times" -timeout 30m "./$dir" >>"$results" ||
		say "a benchmark of $dir failed" >&2
done

printf 'On %s processors, %s, %s:\n\n' "$(nproc)" "$(sed -n 's/^model name[^:]*: //p' /proc/cpuinfo | head -n 1)" "$(go version | cut -d ' ' -f 3)"
awk '
function time(ns) { return ns >= 1e9 ? sprintf("%.2f s", ns / 1e9) : ns >= 1e6 ? sprintf("%.3g ms", ns / 1e6) : sprintf("%.3g us", ns / 1e3) }
FNR == NR && $1 == "pkg:" { n = split($2, at, "/"); pkg = at[n] }
FNR == NR && /^Benchmark/ {
	name = $1
	sub(/^Benchmark/, "", name); sub(/-[0-9]+$/, "", name)
	said = ""
	for (i = 3; i < NF; i += 2) {
		if ($(i + 1) == "ns/op") { if ($i > 0) said = said (said == "" ? "" : ", ") time($i) }
		else if ($(i + 1) !~ /^(B\/op|allocs\/op|MB\/s)$/) said = said (said == "" ? "" : ", ") $i " " $(i + 1)
	}
	top = name; sub(/\/.*/, "", top)
	rest = substr(name, length(top) + 2)
	known[top, name == top ? "" : rest] = said
	all[top] = all[top] (all[top] == "" ? "" : "; ") (rest == "" ? "" : rest ": ") said
	place[top] = pkg; seen[top] = 0; order[++tops] = top
}
FNR == NR { next }
/^\| what \| benchmark/ { on = 1; print; next }
on && /^\|---/ { print; next }
on && !/^\|/ { on = 0 }
on {
	split($0, col, "|")
	names = col[3]; now = ""
	while (match(names, /`[^`]+`/)) {
		name = substr(names, RSTART + 1, RLENGTH - 2); names = substr(names, RSTART + RLENGTH)
		top = name; sub(/\/.*/, "", top)
		part = name == top ? all[top] : known[top, substr(name, length(top) + 2)]
		seen[top] = 1
		now = now (now == "" ? "" : "; ") (part == "" ? "not measured here" : part)
	}
	print "|" col[2] "|" col[3] "|" col[4] "| " now " |"
}
END {
	for (i = 1; i <= tops; i++) if (!seen[order[i]]) { print "| | `" order[i] "` in " place[order[i]] " | | " all[order[i]] " |"; seen[order[i]] = 1 }
}' "$results" README.md
