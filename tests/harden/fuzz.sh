#!/usr/bin/env bash
# Every reader against bytes changed at random, for so many seconds each (60 if not said).
set -euo pipefail
cd "$(dirname "$0")/../.."
FUZZ_SECONDS="${1:-60}" cargo test --test harden fuzzed -- --nocapture --test-threads 2
