#!/usr/bin/env bash
# The fault table of live listening: a network namespace, a link that goes down, is removed, polls without levels, nothing at
# all. Needs root, iproute2 and the built program; skips with a reason without. Ends with "N passed, N failed, N skipped".
set -u
cd "$(dirname "$0")/.." || exit 2
program=$PWD/artifacts/bin/DmxProbe/release/dmxprobe
tools=$PWD/artifacts/bin/DmxProbe.Benchmarks/release/DmxProbe.Benchmarks

if [ "${1:-}" != inside ]; then
  skip() { echo "skipped: $1"; echo "0 passed, 0 failed, 1 skipped"; exit 0; }
  [ "$(uname)" = Linux ] || skip "network namespaces are a matter of Linux"
  command -v ip >/dev/null && command -v unshare >/dev/null || skip "iproute2 or unshare is missing"
  [ -x "$program" ] && [ -x "$tools" ] || skip "build the solution first (-c Release)"
  unshare -n true 2>/dev/null || skip "this user may not make a network namespace"
  exec unshare -n "$0" inside
fi

passed=0 failed=0
work=$(mktemp -d)
trap 'rm -rf "$work"; kill $(jobs -p) 2>/dev/null' EXIT
check() { # what, file, text that must be there, text that must not
  if grep -q -- "$3" "$2" && { [ -z "${4:-}" ] || ! grep -q -- "$4" "$2"; }; then
    passed=$((passed + 1)); printf '%-52s as expected\n' "$1"
  else
    failed=$((failed + 1)); printf '%-52s FAILED\n' "$1"; sed 's/^/    /' "$2"
  fi
}
once() { # what, file, text that must be there exactly once
  if [ "$(grep -c -- "$3" "$2")" = 1 ]; then
    passed=$((passed + 1)); printf '%-52s said once\n' "$1"
  else
    failed=$((failed + 1)); printf '%-52s FAILED\n' "$1"; sed 's/^/    /' "$2"
  fi
}

ip link set lo up
ip link add v0 type veth peer name v1
ip addr add 10.9.0.1/24 dev v0
sysctl -qw net.ipv6.conf.v1.disable_ipv6=1
ip link set v0 up; ip link set v1 up
# Sent on v0 and looped back to listeners of this computer, as from a controller that runs here.
send() { "$tools" send-load 2 44 "$1" 10.9.0.1 >"$work/sent" 2>&1; }

"$program" survey net --for 7s >"$work/nothing" 2>&1
once "nothing heard for 5 s" "$work/nothing" "nothing heard for 5 s on v0 (10.9.0.1/24)"

send 12 & "$program" survey net:10.9.0.1 --join 1-2 --for 11s >"$work/down" 2>&1 &
listener=$!; sleep 3; ip link set v0 down; sleep 4; ip link set v0 up; wait $listener; wait
once "link down for 4 s" "$work/down" "has no link"
once "link back" "$work/down" ") is back"
check "no sender is blamed for it" "$work/down" "the capture itself lost" "fell silent"

send 4 & "$program" survey net --join 1-2 --for 13s >"$work/gone" 2>&1 &
listener=$!; sleep 3; ip link delete v0; sleep 4
ip link add v0 type veth peer name v1; sysctl -qw net.ipv6.conf.v1.disable_ipv6=1
ip addr add 10.9.0.1/24 dev v0; ip link set v0 up; ip link set v1 up
sleep 1; send 10 & wait
once "interface removed" "$work/gone" "is gone"
once "interface back under another number" "$work/gone" ") is back"
check "no sender is blamed for it" "$work/gone" "sACN 1" "fell silent"

send 19 & "$program" survey nic:v1 --for 18s >"$work/nic" 2>&1 &
listener=$!; sleep 3; ip link set v1 down; sleep 3; ip link set v1 up; sleep 3; ip link delete v0; sleep 3
ip link add v0 type veth peer name v1; sysctl -qw net.ipv6.conf.v1.disable_ipv6=1
ip addr add 10.9.0.1/24 dev v0; ip link set v0 up; ip link set v1 up
sleep 1; send 4 & wait $listener; wait
once "nic: link lost" "$work/nic" "v1 has no link"
once "nic: interface removed" "$work/nic" "v1 is gone"
check "nic: heard again after both" "$work/nic" "v1 is back" "fell silent"

"$program" survey net --for 4s >"$work/first" 2>&1 & sleep 1
"$program" survey net --for 1s >"$work/second" 2>&1; wait
check "a port that another program has" "$work/second" "UDP port 6454 (dmxprobe, process"

"$program" survey net --for 6s >"$work/noise" 2>&1 & sleep 1
"$tools" send-noise 3 >"$work/sentnoise"; wait
check "random octets on both ports" "$work/noise" "could not be read" "fault of this program"

echo "$passed passed, $failed failed, 0 skipped"
[ "$failed" -eq 0 ]
