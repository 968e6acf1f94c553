#!/usr/bin/env python3
"""CPU and memory of `dmxprobe watch` with the slots of a universe on the screen, against `survey` on the same traffic.

usage: tests/screen-cost.py PROGRAM [SECONDS [UNIVERSES [HZ]]]   (needs tmux; Linux)
Sends sACN to this computer only (127.0.0.1). A long run shows growth: the memory is printed at ten moments. Both runs are of
the same program and the same traffic, for as long, after the same time to settle. The ordinary build is given longer: it
compiles itself meanwhile, the screen more than the survey. The build compiled ahead of time (tests/compiled.sh) has no such
part. With port 5568 in use: unshare -n sh -c 'ip link set lo up; python3 tests/screen-cost.py ..'
"""
import os, socket, struct, subprocess, sys, threading, time

program = sys.argv[1]
seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 20
universes = int(sys.argv[3]) if len(sys.argv) > 3 else 200
hz = float(sys.argv[4]) if len(sys.argv) > 4 else 44
SETTLE, SETTLE_ORDINARY = 20, 120


def packet(universe):
    """An sACN data packet of 512 slots (E1.31-2018, table 4-1)."""
    dmp = struct.pack(">HBBHHH", 0x7000 | 523, 2, 0xA1, 0, 1, 513) + bytes(513)
    framing = struct.pack(">HI", 0x7000 | 600, 2) + b"cost".ljust(64, b"\0") + bytes([100, 0, 0, 0, 0]) + struct.pack(">H", universe)
    root = struct.pack(">HH", 0x10, 0) + b"ASC-E1.17\0\0\0" + struct.pack(">HI", 0x7000 | 622, 4) + bytes(range(16))
    return bytearray(root + framing + dmp)


class Sender(threading.Thread):
    def __init__(self):
        super().__init__(daemon=True)
        self.go_on = True

    def run(self):
        out = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        packets = [packet(universe + 1) for universe in range(universes)]
        begin, frame = time.monotonic(), 0
        while self.go_on:
            for one in packets:
                one[111] = frame & 255
                one[126 + frame % 40] = frame // 40 & 255
                out.sendto(one, ("127.0.0.1", 5568))
            frame += 1
            wait = begin + frame / hz - time.monotonic()
            if wait > 0:
                time.sleep(wait)


def cpu(pid):
    """By thread, seconds on the processor, to the nanosecond: the ticks of /proc/PID/stat miss what sleeps before the next tick."""
    threads = {}
    for thread in os.listdir(f"/proc/{pid}/task"):
        try:
            threads[thread] = int(open(f"/proc/{pid}/task/{thread}/schedstat").read().split()[0]) / 1e9
        except OSError:
            pass  # it has just ended
    return threads


def resident(pid):
    return int(open(f"/proc/{pid}/statm").read().split()[1]) * os.sysconf("SC_PAGE_SIZE") // 1_000_000


def measure(pid, word):
    time.sleep(settle)
    # A thread that ends takes its time out of the sum: the last that was seen of each counts.
    begin, memory = cpu(pid), []
    seen = dict(begin)
    for _ in range(10):
        for _ in range(20):
            time.sleep(seconds / 200)
            seen.update(cpu(pid))
        memory.append(resident(pid))
    used = sum(spent - begin.get(thread, 0) for thread, spent in seen.items()) / seconds * 100
    if not begin or not memory[-1]:
        sys.exit(f"{word} did not run: is port 5568 in use?")
    print(f"{word}: {used:.1f} % of a core over {seconds:.0f} s; memory, MB: {' '.join(map(str, memory))}", flush=True)
    return used


ordinary = os.path.exists(os.path.join(os.path.dirname(os.path.realpath(program)), "dmxprobe.dll"))
settle, built = (SETTLE_ORDINARY, "ordinary build") if ordinary else (SETTLE, "compiled ahead of time")
sender = Sender()
sender.start()
headless = subprocess.Popen([program, "survey", "net:127.0.0.1", "--for", f"{settle + seconds + 5:.0f}s"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
alone = measure(headless.pid, "survey")
headless.wait()
time.sleep(2)  # until the port is free again
name = f"dmxprobe-cost-{os.getpid()}"
tmux = ["tmux", "-L", name]
subprocess.run([*tmux, "-f", "/dev/null", "new-session", "-d", "-x", "120", "-y", "40", f"exec {program} watch net:127.0.0.1"], check=True)
time.sleep(4)
subprocess.run([*tmux, "send-keys", "u"], check=True)
pid = int(subprocess.run([*tmux, "list-panes", "-F", "#{pane_pid}"], capture_output=True, text=True, check=True).stdout)
screen = measure(pid, "watch")
shown = subprocess.run([*tmux, "capture-pane", "-p"], capture_output=True, text=True, check=True).stdout
print("\n".join(shown.splitlines()[:8]))
subprocess.run([*tmux, "kill-server"], check=True)
sender.go_on = False
print(f"ratio {screen / alone:.2f} (wanted: at most 1.5), {universes} universes at {hz:.0f} Hz, {built}")
sys.exit(0 if screen <= 1.5 * alone else 1)
