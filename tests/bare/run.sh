#!/usr/bin/env bash
# Runs the README's two lines in a bare Debian tree (made by debootstrap): one does the main job, one passes the
# tests. Crates are those of the machine's cargo, fetched before, so that the tree itself needs no network for them.
#
# usage: tests/bare/run.sh TREE [WORDS OF cargo test]   as root; what it came to is kept in tests/bare/runs.txt
#   debootstrap --variant=minbase trixie TREE      takes Debian's own Rust
#   debootstrap --variant=minbase bookworm TREE    takes the machine's, as Debian 12's is too old
set -euo pipefail
tree="$(realpath "$1")"
shift
project="$(cd "$(dirname "$0")/../.." && pwd)"
cargo_home="${CARGO_HOME:-$HOME/.cargo}"
(cd "$project" && cargo fetch --quiet)

mounted=()
bind() {
    mkdir -p "$2"
    mount --bind "$1" "$2"
    mounted=("$2" "${mounted[@]}")
}
leave() { for place in "${mounted[@]}"; do umount "$place"; done; }
trap leave EXIT
for kernel in proc dev sys; do bind "/$kernel" "$tree/$kernel"; done
bind "$cargo_home/registry" "$tree/root/.cargo/registry"

path=/usr/sbin:/usr/bin:/sbin:/bin
packages=(gcc libc6-dev libopenblas-dev)
case "$(cat "$tree/etc/debian_version")" in
    12*)
        toolchain="$(cd "$project" && rustc --print sysroot)"
        bind "$toolchain" "$tree/opt/rust"
        path="/opt/rust/bin:$path"
        ;;
    *) packages=(cargo "${packages[@]}") ;;
esac
inside() {
    chroot "$tree" /usr/bin/env -i PATH="$path" HOME=/root LANG=C.UTF-8 DEBIAN_FRONTEND=noninteractive \
        CARGO_NET_OFFLINE=true "$@"
}
inside apt-get update -q >/dev/null
inside apt-get install -y -q --no-install-recommends "${packages[@]}" >/dev/null

# what is committed, in a folder of its own
mkdir -p "$tree/root/stillair"
find "$tree/root/stillair" -mindepth 1 -maxdepth 1 ! -name target -exec rm -r {} +
git -C "$project" archive HEAD | tar -x -C "$tree/root/stillair"
inside cargo --version
inside sh -c 'cd /root/stillair && cargo run --quiet -- expose three-ply-loose' | sed -n 5,8p
inside sh -c 'cd /root/stillair && cargo test --no-fail-fast "$@"' sh "$@"
inside du -sh /root/stillair/target
