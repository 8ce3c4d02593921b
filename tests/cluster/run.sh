#!/usr/bin/env bash
# A search split over the tasks of a Slurm array, and over GNU parallel, against the search in one go. Slurm runs on
# this machine alone, from a folder of its own; one task is killed outright and requeued.
# Needs root and Debian's slurmctld, slurmd, slurm-client, munge and parallel; without them it says so and ends well.
# Usage: tests/cluster/run.sh [PROGRAM]    default: target/debug/stillair
set -euo pipefail
cd "$(dirname "$0")/../.."
program="$(realpath "${1:-target/debug/stillair}")"
brief="$PWD/materials/briefs/hill-climb-refuelling-coverall.toml"
for needed in slurmctld slurmd sbatch munged mungekey parallel; do
    if ! PATH="$PATH:/usr/sbin" command -v "$needed" >/dev/null; then
        echo "skipped: $needed is not installed (apt-get install slurmctld slurmd slurm-client munge parallel)"
        exit 0
    fi
done
if [ "$(id -u)" != 0 ]; then
    echo "skipped: a Slurm of one's own is started as root"
    exit 0
fi
export PATH="$PATH:/usr/sbin"
work="$(mktemp -d)"
started=()
end() {
    for pid in "${started[@]}"; do kill "$pid" 2>/dev/null || true; done
    wait 2>/dev/null || true
    rm -rf "$work"
}
trap end EXIT

host="$(hostname -s)"
mkdir -p "$work/state" "$work/spool" "$work/out"
chmod 755 "$work"
mungekey -c -k "$work/munge.key"
cat >"$work/slurm.conf" <<CONF
ClusterName=one
SlurmctldHost=$host(127.0.0.1)
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
AuthInfo=socket=$work/munge.socket
CredType=cred/munge
SlurmctldPort=17817
SlurmdPort=17818
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
ProctrackType=proctrack/pgid
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
MpiDefault=none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
ReturnToService=2
JobRequeue=1
NodeName=$host NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF
export SLURM_CONF="$work/slurm.conf"
munged --foreground --force --key-file="$work/munge.key" --socket="$work/munge.socket" \
    --pid-file="$work/munged.pid" --log-file="$work/munged.log" --seed-file="$work/munged.seed" \
    >"$work/munged.out" 2>&1 &
started+=($!)
for _ in $(seq 50); do [ -S "$work/munge.socket" ] && break; sleep 0.1; done
slurmctld -D >"$work/slurmctld.log" 2>&1 &
started+=($!)
slurmd -D -N "$host" >"$work/slurmd.log" 2>&1 &
started+=($!)
ready() { [ "$(sinfo -h -o %T 2>/dev/null)" = idle ]; }
for _ in $(seq 150); do ready && break; sleep 0.2; done
if ! ready; then
    echo "Slurm did not come up:" >&2
    tail -n 20 "$work"/slurmctld.log "$work"/slurmd.log "$work"/munged.out >&2
    exit 1
fi

cd "$work/out"
STILLAIR="$program" sbatch --parsable --array=1-4 "$OLDPWD/examples/cluster/search.sbatch" "$brief" parts >job
job="$(cat job)"
# the second task is killed once it has kept something, and requeued; it goes on from there
for _ in $(seq 600); do [ -s parts/part-2-of-4 ] && [ "$(wc -l <parts/part-2-of-4)" -gt 2 ] && break; sleep 0.05; done
pkill -KILL -f -- "--part 2/4" && echo "task 2 killed after $(wc -l <parts/part-2-of-4) lines of its checkpoint"
state() { squeue -h -t all -j "${job}_$1" -o %T 2>/dev/null || true; }
for _ in $(seq 200); do [ "$(state 2)" = FAILED ] && break; sleep 0.1; done
[ "$(state 2)" = FAILED ] || { echo "the task that was killed is told as $(state 2)" >&2; exit 1; }
scontrol requeue "${job}_2"
for _ in $(seq 1200); do
    ended=0
    for k in 1 2 3 4; do [ "$(state "$k")" = COMPLETED ] && ended=$((ended + 1)); done
    [ "$ended" = 4 ] && break
    sleep 0.25
done
[ "$ended" = 4 ] || { echo "only $ended tasks ended well" >&2; squeue -t all; cat ./*.log >&2; exit 1; }

"$program" merge parts/part-*-of-4 --json >merged.json
"$program" seek "$brief" --json >whole.json
cmp merged.json whole.json && echo "Slurm: 4 tasks, one killed and requeued, joined: the bytes of the search in one go"

mkdir lines
seq 4 | parallel -j 2 "RAYON_NUM_THREADS=1 $program seek $brief --part {}/4 --resume --checkpoint lines/part-{} >/dev/null"
"$program" merge lines/part-* --json >lines.json
cmp lines.json whole.json && echo "GNU parallel: 4 shares joined: the bytes of the search in one go"
