#!/bin/sh
# Drives `dmxprobe watch` on a real terminal: sentences, resizing, Ctrl-C, a closed terminal. Needs tmux.
# usage: tests/screen-tmux.sh PROGRAM   (from the top of the repository)
set -u
program=${1:?the program}
hall=captures/harbour-hall
socket=dmxprobe-screen-$$
failed=0
t() { tmux -L "$socket" "$@"; }
trap 't kill-server 2>/dev/null' EXIT
wait_for() { # text, what
    for _ in $(seq 60); do
        if t capture-pane -p | grep -qF -- "$1"; then echo "ok: $2"; return; fi
        sleep 0.25
    done
    echo "FAILED: $2: '$1' is not on the screen:"; t capture-pane -p; failed=1
}
for term in xterm-256color xterm-16color; do
    t -f /dev/null new-session -d -x 80 -y 24 "TERM=$term sh"
    t send-keys "$program watch $hall/soundcheck.pcapng --patch $hall/patch.csv --utc" Enter
    wait_for "Fault: sACN 2 has two senders at the same priority 100" "$term: the answer is on the first screen"
    wait_for "Enter slots" "$term: the keys are shown"
    t send-keys gLX1-6 Enter
    wait_for "LX1-6 should be lit" "$term: a unit by its name"
    t send-keys f
    wait_for "limit: one sender at the highest priority" "$term: the evidence of a finding"
    for size in 60x20 20x5 120x40 10x3 80x24; do t resize-window -x "${size%x*}" -y "${size#*x}"; sleep 0.2; done
    wait_for "Enter its slots" "$term: usable after resizing"
    t send-keys C-c
    sleep 1.5
    t send-keys 'echo "code=$? $(stty -a | grep -ow -e -echo)"' Enter
    wait_for "code=1" "$term: Ctrl-C ends with the exit code of the answer"
    if t capture-pane -p | grep -q 'code=1 -echo'; then echo "FAILED: $term: the terminal does not echo"; failed=1; fi
    t send-keys "NO_COLOR=1 $program watch $hall/soundcheck.pcapng" Enter
    wait_for "Fault: s" "$term: without colour"
    panes=$(t list-panes -F '#{pane_pid}')
    child=$(pgrep -P "$panes" -f "watch" | head -1)
    t kill-server
    for _ in $(seq 30); do kill -0 "$child" 2>/dev/null || break; sleep 0.5; done
    if [ -n "$child" ] && kill -0 "$child" 2>/dev/null; then echo "FAILED: $term: runs on after its terminal has gone"; kill "$child"; failed=1
    else echo "ok: $term: ends when its terminal goes"; fi
done

# A recording, by keys alone: to the moment LX1-6 went dark, and back on.
t -f /dev/null new-session -d -x 80 -y 24 "TERM=xterm-16color sh"
t send-keys "$program review $hall/soundcheck.pcapng --patch $hall/patch.csv --utc" Enter
wait_for "stopped, speed 1" "review: opens at the start"
t send-keys g1-6 Enter
wait_for " Unit LX1-6" "review: a unit by the end of its name"
t send-keys l
wait_for "LX1-6 is dark because" "review: to where it went dark"
t send-keys l
wait_for "LX1-6 should be lit" "review: to where it came on again"
t send-keys Space
wait_for "playing, speed 1" "review: plays"
for size in 79x24 120x40 12x3 80x24; do t resize-window -x "${size%x*}" -y "${size#*x}"; sleep 0.2; done
wait_for "Space stop" "review: usable after resizing"
t send-keys q
sleep 1.5
t send-keys 'echo "code=$?"' Enter
wait_for "code=1" "review: ends with the exit code of the recording"
t kill-server

# Traffic on this computer's own loopback: one sACN sender, which then stops.
if command -v python3 >/dev/null; then
    t -f /dev/null new-session -d -x 80 -y 24 "TERM=xterm-256color sh"
    t send-keys "$program watch net:127.0.0.1" Enter
    wait_for "Nothing heard yet" "loopback: says that nothing is heard"
    python3 - <<'PY' &
import socket, struct, time
dmp = struct.pack(">HBBHHH", 0x7000 | 523, 2, 0xA1, 0, 1, 513) + bytes(513)
framing = struct.pack(">HI", 0x7000 | 600, 2) + b"desk \x1b[2Jof the hall".ljust(64, b"\0") + bytes([100, 0, 0, 0, 0]) + struct.pack(">H", 7)
root = struct.pack(">HH", 0x10, 0) + b"ASC-E1.17\0\0\0" + struct.pack(">HI", 0x7000 | 622, 4) + bytes(range(16))
packet, out = bytearray(root + framing + dmp), socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
for frame in range(400):
    packet[111], packet[126 + 40] = frame & 255, 200 if frame > 200 else 0
    out.sendto(packet, ("127.0.0.1", 5568))
    time.sleep(0.025)
PY
    wait_for "> sACN 7" "loopback: the universe comes up"
    wait_for 'desk \u001B[2Jof the hall' "loopback: a hostile name is shown, not obeyed"
    t send-keys u
    wait_for "200!" "loopback: a slot that has just changed"
    t send-keys r
    wait_for "nobody" "loopback: the sender has gone"
    t send-keys q
    t kill-server
fi
exit $failed
