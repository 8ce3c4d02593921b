#!/usr/bin/env bash
# A Debian package of the program, its manual page and what shells complete, in target/debian/.
#
# Needs cargo-deb (`cargo install cargo-deb --locked`) and dpkg-dev, which finds what the program links with.
set -euo pipefail
cd "$(dirname "$0")/../.."
cargo build --release --locked --bin stillair
program="${CARGO_TARGET_DIR:-target}/release/stillair"
mkdir -p target/deb
"$program" man >target/deb/stillair.1
"$program" completions bash >target/deb/stillair.bash
"$program" completions zsh >target/deb/_stillair
"$program" completions fish >target/deb/stillair.fish
cargo deb --no-build --locked
