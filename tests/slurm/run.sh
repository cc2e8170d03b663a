#!/usr/bin/env bash
# A real Slurm of one node on the loopback address: an array of eight parts, one of them killed midway and
# queued again, joined and compared with a single run byte for byte. Not part of the gate: it needs root,
# Debian's slurm-wlm and munge (installed if they are missing), and about a minute.
# Skipped, with the reason, where Slurm cannot start.
# Usage: bash tests/slurm/run.sh [PROGRAM]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
source=$PWD
program=$(realpath "${1:-.build/tests/cli/wiltline}")

skip() {
  echo "SKIPPED: $*"
  exit 0
}
fail() {
  echo "FAILED: $*" >&2
  exit 1
}
[[ -x $program ]] || fail "no program $program; build it first, or name one"
[[ $(id -u) -eq 0 ]] || skip "Slurm's daemons are started as root here, and this is not root"
source tests/packages.sh
need_packages slurm-wlm munge || skip "Debian's slurm-wlm and munge cannot be installed"

place=$(mktemp -d -t wiltline-slurm.XXXXXX)
daemons=()
job=
stop() {
  if [[ -n $job ]]; then  # what still runs of the array, if this failed, before its daemons go
    scancel "$job" 2>/dev/null || true
    for _ in $(seq 100); do
      [[ -z $(squeue -h -j "$job" 2>/dev/null) ]] && break
      sleep 0.2
    done
  fi
  # Only what was started here, the last first.
  for ((i = ${#daemons[@]} - 1; i >= 0; --i)); do
    kill "${daemons[i]}" 2>/dev/null || true
    wait "${daemons[i]}" 2>/dev/null || true
  done
  rm -rf "$place"
}
trap stop EXIT
chmod 755 "$place"

# munge: a key, a socket and a log of its own.
mkdir -m 755 "$place/munge"
head -c 1024 /dev/urandom >"$place/munge/key"
chmod 400 "$place/munge/key"
munged --foreground --force --key-file="$place/munge/key" --socket="$place/munge/socket" \
  --pid-file="$place/munge/pid" --log-file="$place/munge/log" --seed-file="$place/munge/seed" \
  >"$place/munge/out" 2>&1 &
daemons+=($!)

node=$(hostname -s)
mkdir -p "$place/state" "$place/spool"
cat >"$place/slurm.conf" <<CONF
ClusterName=wiltline
SlurmctldHost=$node(127.0.0.1)
SlurmctldPort=46817
SlurmdPort=46818
SlurmUser=root
AuthType=auth/munge
AuthInfo=socket=$place/munge/socket
CredType=cred/munge
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SwitchType=switch/none
MpiDefault=none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SchedulerType=sched/backfill
SchedulerParameters=requeue_delay=1
StateSaveLocation=$place/state
SlurmdSpoolDir=$place/spool
SlurmctldPidFile=$place/slurmctld.pid
SlurmdPidFile=$place/slurmd.pid
SlurmctldLogFile=$place/slurmctld.log
SlurmdLogFile=$place/slurmd.log
ReturnToService=2
MinJobAge=600
NodeName=$node NodeAddr=127.0.0.1 CPUs=2 State=UNKNOWN
PartitionName=all Nodes=$node Default=YES MaxTime=INFINITE State=UP
CONF
touch "$place/cgroup.conf"
export SLURM_CONF=$place/slurm.conf
slurmctld -D -f "$SLURM_CONF" >"$place/slurmctld.out" 2>&1 &
daemons+=($!)
slurmd -D -f "$SLURM_CONF" >"$place/slurmd.out" 2>&1 &
daemons+=($!)

for _ in $(seq 60); do
  [[ $(sinfo -h -o %T 2>/dev/null) == idle ]] && break
  sleep 0.5
done
if [[ $(sinfo -h -o %T 2>/dev/null) != idle ]]; then
  skip "Slurm does not start here: $(tail -qn 1 "$place"/slurmctld.log "$place"/slurmd.log "$place"/munge/log \
    2>/dev/null | tr '\n' ' ')"
fi
echo "Slurm $(sinfo --version | cut -d' ' -f2) is up: $(sinfo -h -o '%D node, %c CPUs')."

mkdir "$place/work"
cd "$place/work"
words=(--weather-dir "$source/weather-samples" --crops all --pots all --output sweep.csv)
"$program" sweep "${words[@]/sweep.csv/single.csv}" 2>/dev/null
parts=8
export WILTLINE=$program PARTS=$parts
job=$(sbatch --parsable --mem=0 --array=1-$parts "$source/cli/sweep/sweep-array.sbatch" "${words[@]}")

# Task 3 is ended in the middle, with SIGKILL, and then put in the queue again.
part=sweep.csv.part-3-of-$parts
for _ in $(seq 1200); do
  [[ -f $part.journal && $(wc -l <"$part.journal") -ge 4 ]] && break
  [[ -f $part ]] && fail "task 3 was done before it could be killed"
  sleep 0.05
done
[[ -f $part.partial ]] || fail "task 3 did not begin"
kept=$(($(tail -n 1 "$part.journal" | cut -d' ' -f1) - 1))
# By its process id, as the kernel would end it when memory runs out: Slurm must find out by itself.
task=$(squeue -h -j "${job}_3" -o %A)
victim=
for pid in $(scontrol listpids "$task" | awk 'NR > 1 && $1 > 0 { print $1 }'); do
  [[ $(tr '\0' ' ' <"/proc/$pid/cmdline") == *"sweep "*"--part 3/$parts "* ]] && victim=$pid
done
[[ -n $victim ]] || fail "no process of task 3: $(scontrol listpids "$task")"
kill -KILL "$victim"
for _ in $(seq 200); do
  [[ $(squeue -h -t all -j "${job}_3" -o %T) == FAILED ]] && break
  sleep 0.1
done
state=$(squeue -h -t all -j "${job}_3" -o %T)
[[ $state == FAILED ]] || fail "task 3 was not killed: $state"
scontrol requeue "${job}_3"
[[ -f $part ]] && fail "a killed task left a part under its final name"
echo "Task 3 killed after at least $kept blocks and queued again."

for _ in $(seq 600); do
  [[ -z $(squeue -h -j "$job" 2>/dev/null) ]] && break
  sleep 0.5
done
squeue -h -j "$job" 2>/dev/null | grep . && fail "the array did not end in time"
for k in $(seq $parts); do
  [[ -f sweep.csv.part-$k-of-$parts ]] || fail "no part $k: $(tail -n 2 sweep-*_"$k".log)"
done
grep -q "going on after" sweep-*_3.log || fail "task 3 did not go on where it was: $(cat sweep-*_3.log)"
grep "going on after" sweep-*_3.log

"$program" sweep "${words[@]}" --join
cmp single.csv sweep.csv || fail "the joined parts differ from the single run"
echo "$(($(wc -l <sweep.csv) - 1)) rows: the array of $parts parts and the single run are the same bytes."
