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
    sleep 4
    if [ -n "$child" ] && kill -0 "$child" 2>/dev/null; then echo "FAILED: $term: runs on after its terminal has gone"; kill "$child"; failed=1
    else echo "ok: $term: ends when its terminal goes"; fi
done
exit $failed
