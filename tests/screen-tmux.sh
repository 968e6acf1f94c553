#!/bin/sh
# Drives the screens on a real terminal: sentences, guided questions, resizing, Ctrl-C, a closed terminal. Skips without tmux.
# usage: tests/screen-tmux.sh [PROGRAM]   (from the top of the repository, after the Release build)
set -u
program=$(realpath "${1:-artifacts/bin/DmxProbe/release/dmxprobe}")
hall=captures/harbour-hall
passed=0 failed=0
if ! command -v tmux >/dev/null; then echo "no tmux: skipped"; echo "0 passed, 0 failed, 1 skipped"; exit 0; fi
folder=$(mktemp -d)
socket=dmxprobe-screen-$$ sessions=0 lost=
t() { tmux -L "$socket-$sessions" "$@" 2>/dev/null; }
# A server that has just been told to end still answers for a moment: each session has its own.
begin() { # columns, rows, terminal
    sessions=$((sessions + 1)) lost=
    t -f /dev/null new-session -d -x "$1" -y "$2" "TERM=$3 PS1='$ ' sh"
}
trap 't kill-server; [ -z "${sender:-}" ] || kill "$sender" 2>/dev/null; rm -rf "$folder"' EXIT
trap 'exit 1' HUP INT TERM
ok() { echo "ok: $1"; passed=$((passed + 1)); }
bad() { echo "FAILED: $1"; failed=$((failed + 1)); }
# Looks ten times a second, for 15 s at most. What comes behind a miss in the same session has lost its footing: it is not
# waited for, so that the whole cannot take longer than 15 s for each session beyond what it needs.
until_true() {
    [ -z "$lost" ] || return 1
    for _ in $(seq 150); do
        "$@" && return 0
        sleep 0.1
    done
    lost=1
    return 1
}
shown() { t capture-pane -p $scrolled | tr -s ' \n' '  ' | grep -qF -- "$1"; }
ended() { [ "$(t display-message -p '#{pane_current_command}')" = sh ]; }
gone() { ! kill -0 "$1"; } 2>/dev/null
wait_for() { # text, what[, where the rows begin: -200 takes in what has scrolled off]
    scrolled=${3:+-S $3} before=$lost
    if until_true shown "$1"; then ok "$2"; return; fi
    bad "$2: '$1' is not on the screen${before:+ (not waited for)}"
    [ -n "$before" ] || t capture-pane -p
}
code_is() { # exit code, what
    until_true ended
    t send-keys 'code=$?; clear; echo "code=$code $(stty -a | grep -ow -e -echo)."' Enter
    wait_for "code=$1 ." "$2"
}
resize() { for size in "$@"; do t resize-window -x "${size%x*}" -y "${size#*x}"; sleep 0.1; done; }

for term in xterm-256color xterm-16color; do
    begin 80 24 "$term"
    t send-keys "$program watch $hall/soundcheck.pcapng --patch $hall/patch.csv --utc" Enter
    wait_for "Fault: sACN 2 has two senders at the same priority 100" "$term: the answer is on the first screen"
    wait_for "Enter slots" "$term: the keys are shown"
    t send-keys F1
    wait_for "Ctrl-C too" "$term: every key by F1"
    t send-keys r
    t send-keys gLX1-6 Enter
    wait_for "LX1-6 should be lit" "$term: a unit by its name"
    t send-keys f
    wait_for "limit: one sender at the highest priority" "$term: the evidence of a finding"
    resize 60x20 20x5 120x40 10x3 80x24
    wait_for "Enter its slots" "$term: usable after resizing"
    t send-keys C-c
    code_is 1 "$term: Ctrl-C ends with the exit code of the answer, and the terminal echoes"
    t send-keys "NO_COLOR=1 $program watch $hall/soundcheck.pcapng" Enter
    wait_for "Fault: s" "$term: without colour"
    if t capture-pane -pe | grep -q "$(printf '\033')\[[0-9;]*[349][0-7]"; then bad "$term: NO_COLOR, and there is colour"; else ok "$term: and has none"; fi
    panes=$(t list-panes -F '#{pane_pid}')
    child=$(pgrep -P "$panes" -f "watch" | head -1)
    t kill-server
    if [ -n "$child" ] && until_true gone "$child"; then ok "$term: ends when its terminal goes"
    else bad "$term: runs on after its terminal has gone"; [ -z "$child" ] || kill "$child"; fi
done

# The guided questions from the screen of a unit, kept, and gone on with by the command.
begin 80 24 xterm
t send-keys "$program watch $hall/soundcheck.pcapng --patch $hall/patch.csv --log $folder/kept.csv" Enter
wait_for "Enter slots" "guided: the rig"
t send-keys g1-6 Enter
wait_for "D locate" "guided: a unit offers to be located"
t send-keys d
wait_for "is an audience in?" "guided: an audience is asked for first"
t send-keys n
wait_for "What have you at hand" "guided: what is at hand"
t send-keys 1
wait_for "question 1" "guided: a question"
wait_for "nobody on a ladder" "guided: with its caution"
t send-keys l
wait_for "question 2" "guided: an answer leads on"
t send-keys b
wait_for "question 1" "guided: and is taken back"
t send-keys d
wait_for "question 2" "guided: another answer"
t send-keys q
until_true ended
if grep -q ',LX1-6,dark,' "$folder/kept.csv" && ! grep -q ',lit,' "$folder/kept.csv"; then ok "guided: the file holds the answer that stands"; else bad "guided: the file: $(cat "$folder/kept.csv")"; fi
t send-keys "clear; $program locate $hall/soundcheck.pcapng --patch $hall/patch.csv --unit LX1-6 --ask --screen --log $folder/kept.csv" Enter
wait_for "is an audience in?" "guided: locate --ask --screen goes on from it"
t send-keys y
wait_for "With an audience in nothing is raised" "guided: with an audience in nothing is raised"
t send-keys Escape
code_is 3 "guided: leaves with the exit code of the answer"
t send-keys "clear; $program walk $hall/soundcheck.pcapng --patch $hall/patch.csv --screen --notes $folder/walk.csv" Enter
wait_for "Unit 1 of 26" "check: the first unit in walking order"
t send-keys n
wait_for "Unit 2 of 26" "check: an answer leads to the next"
t send-keys q
wait_for "by your notes" "check: the answer tells what was not right" -200
t kill-server

# A recording, by keys alone: to the moment LX1-6 went dark, and back on.
begin 80 24 xterm-16color
t send-keys "$program review $hall/soundcheck.pcapng --patch $hall/patch.csv --utc" Enter
wait_for "stopped, speed 1" "review: opens stopped"
t send-keys g1-6 Enter
wait_for " Unit LX1-6" "review: a unit by the end of its name"
t send-keys l
wait_for "LX1-6 is dark because" "review: to where it went dark"
t send-keys l
wait_for "LX1-6 should be lit" "review: to where it came on again"
t send-keys Space
wait_for "playing, speed 1" "review: plays"
resize 79x24 120x40 12x3 80x24
wait_for "Space stop" "review: usable after resizing"
t send-keys q
code_is 1 "review: ends with the exit code of the recording"
t kill-server

# Traffic on this computer's own loopback: one sACN sender, which then stops.
if command -v python3 >/dev/null; then
    cat >"$folder/send.py" <<'PY'
import socket, struct, sys, time
dmp = struct.pack(">HBBHHH", 0x7000 | 523, 2, 0xA1, 0, 1, 513) + bytes(513)
framing = struct.pack(">HI", 0x7000 | 600, 2) + b"desk \x1b[2Jof the hall".ljust(64, b"\0") + bytes([100, 0, 0, 0, 0]) + struct.pack(">H", 7)
root = struct.pack(">HH", 0x10, 0) + b"ASC-E1.17\0\0\0" + struct.pack(">HI", 0x7000 | 622, 4) + bytes(range(16))
packet, out = bytearray(root + framing + dmp), socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
for frame in range(int(sys.argv[1])):
    packet[111], packet[126 + 40] = frame & 255, 200 if frame > 200 else 0
    out.sendto(packet, ("127.0.0.1", 5568))
    time.sleep(0.025)
PY
    begin 80 24 xterm-256color
    t send-keys "$program watch net:127.0.0.1" Enter
    wait_for "Nothing heard yet" "loopback: says that nothing is heard"
    python3 "$folder/send.py" 400 &
    wait_for "> sACN 7" "loopback: the universe comes up"
    wait_for 'desk \u001B[2Jof the hall' "loopback: a hostile name is shown, not obeyed"
    t send-keys u
    wait_for "200!" "loopback: a slot that has just changed"
    t send-keys r
    wait_for "nobody" "loopback: the sender has gone"
    t send-keys q
    until_true ended
    # The questions listen on: nothing of what is asked for is up, and that is said.
    python3 "$folder/send.py" 2400 &
    sender=$!
    t send-keys "clear; $program locate net:127.0.0.1 --patch $hall/patch.csv --map 1=sacn:7 --unit LX1-6 --ask --screen --for 1s" Enter
    wait_for "is an audience in?" "wire: asks of what it heard"
    t send-keys n
    wait_for "What have you at hand" "wire: what is at hand"
    t send-keys 1
    wait_for "question 1" "wire: a question"
    t send-keys d
    wait_for "nothing of what was asked for arrives here" "wire: what is not sent is told on the screen"
    t send-keys q
    code_is 3 "wire: leaves with the exit code of the answer"
    # The same questions opened while watching read the wire that is watched.
    t send-keys "clear; $program watch net:127.0.0.1 --patch $hall/patch.csv --map 1=sacn:7" Enter
    wait_for "> sACN 7" "watched: the universe comes up"
    t send-keys g1-6 Enter
    wait_for "D locate" "watched: a unit offers to be located"
    t send-keys d
    wait_for "is an audience in?" "watched: an audience is asked for first"
    t send-keys n
    wait_for "What have you at hand" "watched: what is at hand"
    t send-keys 1
    wait_for "question 1" "watched: a question"
    sleep 1
    t send-keys d
    wait_for "nothing of what was asked for arrives here" "watched: what is not sent is told"
    t send-keys q
    until_true ended
    kill "$sender"
    t kill-server
fi
echo "$passed passed, $failed failed, 0 skipped"
[ $failed = 0 ]
