#!/usr/bin/env bash
# Installs a package into a bare Debian tree (made by debootstrap) and runs the main job there.
#
# usage: examples/deb/try.sh PACKAGE.deb TREE   as root
set -euo pipefail
package="$1"
tree="$2"
cp "$package" "$tree/tmp/stillair.deb"
inside() { chroot "$tree" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin LANG=C.UTF-8 DEBIAN_FRONTEND=noninteractive "$@"; }
inside apt-get update -q >/dev/null
inside apt-get install -y -q --no-install-recommends /tmp/stillair.deb >/dev/null
inside stillair --version
inside stillair expose three-ply-loose | sed -n 1,12p
inside stillair new /tmp/workshop >/dev/null
inside stillair --shelf /tmp/workshop expose my-layup --behind disc | grep HTI24
inside stillair report three-ply-loose --out /tmp/page.html
inside stillair expose three-ply-loose --chart /tmp/chart.png >/dev/null
inside sh -c 'ls /usr/share/man/man1/stillair.1* /usr/share/bash-completion/completions/stillair'
inside rm -r /tmp/workshop /tmp/page.html /tmp/chart.png
inside apt-get purge -y -q stillair >/dev/null
if inside sh -c 'command -v stillair'; then
    echo "the program is left behind" >&2
    exit 1
fi
