#!/usr/bin/env bash
# Opens the desk in headless Chromium and holds it to what it promises: figures to the last digit, every step
# taken back, no request to elsewhere, keyboard alone.
# Usage: tests/browser/check.sh [PROGRAM [WORDS]]   default: target/debug/stillair, which is built first; only checks
# whose name holds the words. DESK_PAGE=src/desk/page takes the page as it lies, without a build. With
# DESK_DELAYS=told it tells how fast it answers, with DESK_DELAYS=hold the goals are bounds; both with a release build.
set -euo pipefail
cd "$(dirname "$0")/../.."

command -v chromium >/dev/null || { echo "needs the package chromium" >&2; exit 1; }
command -v npm >/dev/null || { echo "needs the packages nodejs and npm" >&2; exit 1; }

program=${1:-}
if [ -z "$program" ]; then
    cargo build --quiet
    program=target/debug/stillair
fi
# as the lock file has them, to the byte
(cd tests/browser && npm ci --silent --no-fund --no-audit --ignore-scripts)
timeout 300 node tests/browser/check.mjs "$program" "${2:-}"
