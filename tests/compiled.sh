#!/bin/sh
# Publishes the program compiled ahead of time for linux-x64 and smoke-tests it: the same answers as the ordinary build, and
# the first screen in half its time or less. Needs a C compiler; skips without. Publishing
# takes two minutes of one core, the rest 20 s.
# usage: tests/compiled.sh [--publish] [FOLDER]   (from the top of the repository, after the Release build; FOLDER keeps
# what is made and is used again where the program is in it already; --publish only makes it)
set -u
only=; if [ "${1:-}" = --publish ]; then only=1; shift; fi
ordinary=artifacts/bin/DmxProbe/release/dmxprobe
hall=captures/harbour-hall
passed=0 failed=0 skipped=0
ok() { echo "ok: $1"; passed=$((passed + 1)); }
bad() { echo "FAILED: $1"; failed=$((failed + 1)); }
if ! command -v cc >/dev/null && ! command -v gcc >/dev/null && ! command -v clang >/dev/null; then
    echo "no C compiler: skipped"; echo "0 passed, 0 failed, 1 skipped"; exit 0
fi
folder=${1:-$(mktemp -d)}
[ $# -gt 0 ] || trap 'rm -rf "$folder"' EXIT

# A library that is not ready for it (docs/decisions/0018) warns; what of it is used is tried below.
compiled=$folder/publish/DmxProbe/release_linux-x64/dmxprobe
mkdir -p "$folder"
if [ -x "$compiled" ]; then ok "published before"
elif dotnet publish src/DmxProbe -c Release -r linux-x64 -p:PublishAot=true -p:TreatWarningsAsErrors=false \
    -p:ArtifactsPath="$folder" -p:RunAnalyzers=false -p:EnforceCodeStyleInBuild=false --nologo -v q -m:1 >"$folder/log" 2>&1; then ok "published"; else tail -20 "$folder/log"; bad "publish"; fi
if [ -n "$only" ]; then [ $failed = 0 ]; exit; fi
same() { # what, arguments
    what=$1; shift
    "$ordinary" "$@" >"$folder/a" 2>&1; a=$?
    "$compiled" "$@" >"$folder/b" 2>&1; b=$?
    if [ $a = $b ] && cmp -s "$folder/a" "$folder/b"; then ok "$what: the same answer"; else bad "$what: exit $a and $b"; diff "$folder/a" "$folder/b" | head -5; fi
}
same survey survey $hall/soundcheck.pcapng --utc
same json survey $hall/soundcheck.pcapng --json
same timing timing $hall/stage-left.vcd --utc
same explain explain $hall/soundcheck.pcapng --patch $hall/patch.csv --unit LX1-6 --utc
same locate locate $hall/soundcheck.pcapng --patch $hall/patch.csv --unit LX1-6 --trace $hall/lx1-6-trace.csv --utc
same "watch --plain" watch $hall/soundcheck.pcapng --plain --utc
same "patch check" patch check $hall/patch.csv
same help --help
# The one library that warns: what it writes must be the same octet for octet.
for program in "$ordinary" "$compiled"; do "$program" export $hall/soundcheck.pcapng --what frames -o "$folder/$(basename "$(dirname "$program")").parquet" >/dev/null 2>&1; done
if cmp -s "$folder/$(basename "$(dirname "$ordinary")").parquet" "$folder/$(basename "$(dirname "$compiled")").parquet"; then ok "export: the same Parquet file"; else bad "export to Parquet"; fi
rm -f "$folder"/*.parquet
same refusal survey no-such-file.pcapng

if command -v python3 >/dev/null; then
    if python3 - "$ordinary" "$compiled" $hall <<'PY'
import fcntl, os, pty, select, struct, sys, termios, time
def first_draw(program, hall):
    """Seconds from the start of the process to the first words on the screen."""
    begin = time.monotonic()
    child, terminal = pty.fork()
    if child == 0:
        os.environ["TERM"] = "xterm-256color"
        os.execv(program, [program, "watch", hall + "/soundcheck.pcapng", "--patch", hall + "/patch.csv"])
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    seen, drawn = b"", None
    while drawn is None and time.monotonic() - begin < 30:
        if select.select([terminal], [], [], 0.02)[0]:
            try:
                seen += os.read(terminal, 65536)
            except OSError:
                break
            drawn = time.monotonic() - begin if b"Q ends" in seen else None
    os.write(terminal, b"q")
    time.sleep(1)
    os.close(terminal)
    os.waitpid(child, 0)
    return drawn or 30
pairs = [(first_draw(sys.argv[1], sys.argv[3]), first_draw(sys.argv[2], sys.argv[3])) for _ in range(5)]
ordinary, compiled = sorted(a for a, _ in pairs)[2], sorted(b for _, b in pairs)[2]
print(f"first screen: ordinary {ordinary * 1000:.0f} ms, compiled {compiled * 1000:.0f} ms, ratio {compiled / ordinary:.2f} (medians of 5)")
sys.exit(0 if compiled <= ordinary / 2 else 1)
PY
    then ok "first screen in half the time or less"; else bad "first screen"; fi
else echo "no python3: the first screen is not timed"; skipped=1
fi
ls -l "$compiled" | awk '{ printf "size: %.0f MB\n", $5 / 1e6 }'
echo "$passed passed, $failed failed, $skipped skipped"
[ $failed = 0 ]
