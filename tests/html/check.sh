#!/usr/bin/env bash
# Opens the demo's pages in headless Chromium: no message on the console, no request beyond the file itself.
# Usage: tests/html/check.sh [PAGE.html ...]   default: every page in reports/
set -euo pipefail
cd "$(dirname "$0")/../.."

[ $# -gt 0 ] || set -- reports/*.html
command -v chromium >/dev/null || { echo "needs the package chromium" >&2; exit 1; }

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

open_page() { # FILE LOG NETLOG
    timeout 120 chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run \
        --disable-background-networking --disable-component-update --disable-sync \
        --host-resolver-rules='MAP * ~NOTFOUND, EXCLUDE 127.0.0.1' \
        --user-data-dir="$work/profile-$RANDOM$RANDOM" --enable-logging=stderr --log-level=0 \
        --log-net-log="$3" --dump-dom "file://$(realpath "$1")" >"$work/dom" 2>"$2"
}

# What the page itself would load: its own file alone, and nothing by way of the network.
faults_of() { # LOG NETLOG
    grep -E ':CONSOLE|Refused to|net::ERR' "$1" || true
    # without the query, which the browser makes up anew for requests of its own
    grep -oE '"url":"(https?|wss?|ftp)://[^"?]*' "$2" || true
}

# The check itself is tried on a page that does both things wrong.
cat >"$work/wrong.html" <<'PAGE'
<!doctype html><html lang="en"><head><meta charset="utf-8"><title>wrong</title></head>
<body><img src="http://127.0.0.1:9/nothing.png" alt=""><script>console.error("wrong")</script></body></html>
PAGE
open_page "$work/wrong.html" "$work/log" "$work/net"
found=$(faults_of "$work/log" "$work/net")
case $found in
    *CONSOLE*127.0.0.1* | *127.0.0.1*CONSOLE*) ;;
    *) echo "the check does not see a faulty page:" >&2; echo "$found" >&2; exit 1 ;;
esac

# Requests that the browser makes by itself, with an empty page, are not the page's.
printf '<!doctype html><html lang="en"><head><title>empty</title></head><body></body></html>' >"$work/empty.html"
open_page "$work/empty.html" "$work/log" "$work/net"
faults_of "$work/log" "$work/net" | sort -u >"$work/own"

status=0
for page in "$@"; do
    open_page "$page" "$work/log" "$work/net"
    grep -q '</main>' "$work/dom" || { echo "$page: not shown whole" >&2; status=1; }
    if faults_of "$work/log" "$work/net" | sort -u | grep -vxFf "$work/own" >"$work/faults"; then
        echo "$page:" >&2
        cat "$work/faults" >&2
        status=1
    else
        echo "$page: no message, no request"
    fi
done
exit $status
