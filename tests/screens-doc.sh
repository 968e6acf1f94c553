#!/bin/sh
# Writes docs/screens.md from the golden screens (renew those first: DMXPROBE_UPDATE_GOLDEN=1 dotnet test tests/DmxProbe.Tests).
# usage: tests/screens-doc.sh   (from the top of the repository)
set -eu
golden=tests/DmxProbe.Tests/Golden
show() {
    printf '\n## %s\n\n%s\n' "$1" "$2"
    for width in 80 120; do printf '\n%s columns:\n\n' "$width"; sed -e 's/^/    /' -e 's/ *$//' "$golden/screen-$3-$width.txt"; done
}
{
    printf '# The screen\n\n'
    printf '`dmxprobe watch INPUT.. [--patch SHEET]` shows the rig while it runs, live or from a recording played as it was made.\n'
    printf 'It only listens. These captures are made from Harbour Hall, half a minute in, by `tests/screens-doc.sh`.\n\n'
    printf 'Keys: R rig, U slots of the chosen universe, F findings, G and the beginning of a name goes to a unit, S the next\n'
    printf 'sender of a universe, Up, Down and the page keys, Enter, Esc back to the rig, Q or Ctrl-C ends. Below 80 columns or\n'
    printf '8 rows the answer stands alone, in one sentence. `--plain` prints a line for each event instead.\n'
    show Rig 'A row for each universe, the ones in trouble first; `sheet` is its number on the patch sheet, `frames/s` those of the sender that is obeyed in the last whole second, with the eight seconds before as a share of 44.' rig
    show Universe 'Each unit begins a row with its first slot; `!` changed within a second, `:` within five.' universe
    show 'Going to a unit' 'G, the name, Enter.' unit
    show Findings 'The evidence of the chosen finding, what to do and what to mind; Enter goes to its universe.' findings
} > docs/screens.md
