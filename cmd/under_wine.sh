#!/usr/bin/env bash
# Runs a Windows test program under wine, for go test -exec. Wine 8 can't take temporary folders away in the way that Go asks
# for; a test that failed by nothing else than that clean-up is not counted as failed.
set -uo pipefail
said=$(mktemp)
trap 'rm -f "$said"' EXIT
wine "$@" >"$said" 2>&1
ended=$?
[ $ended -eq 0 ] && { tail -1 "$said"; exit 0; }
if grep -qE '_test\.go:[0-9]+:|^panic:|^fatal error:' "$said" || ! grep -q 'TempDir RemoveAll cleanup' "$said"; then
	cat "$said"
	exit $ended
fi
echo "PASS but for $(grep -c 'TempDir RemoveAll cleanup' "$said") temporary folders that wine left"
