#!/usr/bin/env bash
# Every reader against bytes changed at random: so many runs of each (a million if not said), or for so long
# each, as `60s`. A log of runs, shapes of message and crashes goes to the file named second, if one is.
set -euo pipefail
cd "$(dirname "$0")/../.."
until="${1:-1000000}"
said="$(mktemp)"
trap 'rm -f "$said"' EXIT
FUZZ="$until" cargo test --test program fuzzed -- --nocapture --test-threads 2 | tee "$said"
{
    echo "# $(date -u +%F), $(uname -m), commit $(git rev-parse --short HEAD), fuzz.sh $until"
    grep -o '[a-z.]*[a-z .]*: [0-9]* runs.* crashes$' "$said" | sort
} >"${2:-/dev/null}"
