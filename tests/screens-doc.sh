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
    printf '`dmxprobe watch INPUT.. [--patch SHEET]` shows the rig while it runs, live or from a recording played as it was made;\n'
    printf '`dmxprobe review RECORDING [--patch SHEET]` shows a recording, with a time line. Both only listen. These captures are\n'
    printf 'of Harbour Hall, half a minute in, and are made by `tests/screens-doc.sh` from the screens that the tests hold.\n\n'
    printf '## Keys\n\n'
    printf '| key | does |\n|---|---|\n'
    printf '| R, U, T, F | rig, slots of the chosen universe, timing, findings |\n'
    printf '| G, then the beginning of a name (or its end, where only one unit ends so), Enter | to a unit; N and P: the units beside it |\n'
    printf '| S | the next sender of the universe or unit |\n'
    printf '| Up, Down, page keys | choose, scroll |\n'
    printf '| Enter | the slots of a universe, the unit of a row, the moment and the slots of a finding |\n'
    printf '| D | on a unit: it does not follow; the guided questions find what it is really reading |\n'
    printf '| C | the guided function check, unit by unit; needs `--patch`. Only an answer is kept in `--log`: opening it and looking at units writes nothing |\n'
    printf '| ?, F1, any other letter | every key; on the guided questions ? and F1 say which keys work there |\n'
    printf '| Esc | back; Q or Ctrl-C ends |\n'
    printf '| in review: Space | plays and stops; + and - the speed, a quarter to 16 times |\n'
    printf '| Left, Right, Home, End | a second back and on, the start, the end |\n'
    printf '| comma, full stop | the change before and the next one in what is looked at: the unit, else the chosen universe |\n'
    printf '| L | where the unit next goes dark, comes on, flashes or runs a programme |\n'
    printf '| M, W | the next mark, the next fault or warning; behind the last the first again |\n'
    printf '| J | a time: 19:41:07, seconds from the start (12.5), or t1:00:12:05 for time code |\n'
    printf '| A, B | set the points (again: take away); with both, play goes round between them |\n\n'
    printf 'A mouse works too: a click chooses, a second one is Enter, the wheel steps, a click on a key is the key, a click on the\n'
    printf 'time line goes there. Below 80 columns or 8 rows the answer stands alone, in one sentence. Colour repeats what the words\n'
    printf 'say, in the 16 colours of any terminal; `--no-color` or NO_COLOR takes it away. `watch --plain` prints a line for each\n'
    printf 'event instead, for screen readers and logs. Pictures come 2.5 times a second.\n\n'
    printf '200 universes at 44 Hz with the slots of one of them on the screen cost 1.15 to 1.24 times the processor time of `survey` on\n'
    printf 'the same traffic in the program compiled ahead of time, 1.44 to 1.48 times in the ordinary one (2.5 to 3.1 %% of a core), and\n'
    printf '320 octets a second to the terminal: `tests/screen-cost.py PROGRAM 20`, machine loaded; docs/decisions/0018 has the rest.\n\n'
    printf 'In review levels, and who decides each slot, are those of the moment; losses, timing and the list of findings are of the\n'
    printf 'whole recording, and a star marks the findings that are about the moment shown. Where ArtTimeCode was sent it stands\n'
    printf 'beside the time.\n'
    show Rig 'A row for each universe, the ones in trouble first; `sheet` is its number on the patch sheet, `rate` the frames of the obeyed sender in the last whole second, with the eight seconds before as a share of 44.' rig
    show Universe 'Each unit begins a row with its first slot; `!` changed within a second, `:` within five. Where several send it, `decided by` says who decides which slots, live and at any moment of a recording.' universe
    show 'A unit chosen' 'Down goes from unit to unit.' universe-unit
    show Unit 'What `explain` says, live: the verdict, the look, each slot with what its value means, since when, and how it went.' unit
    show 'Two senders at odds' 'S shows the unit as the other sender drives it.' unit-disputed
    show Timing 'What `timing` says: `[` and `]` are the limits, `=` what was measured, `x` the part outside.' timing
    show 'A line' 'The same of a line recording, with the spread of the chosen figure.' timing-line
    show Findings 'The evidence of the chosen finding, what to do and what to mind.' findings
    show Keys 'Every key.' keys
    show 'Locate: before' 'D on a unit, or `locate --ask --screen`. On a live input both listen on and tell what is not sent as asked; on the screen of watch no answer is taken while nobody sends the universe asked for. Nothing is raised with an audience in.' locate-before
    show 'Locate: what is at hand' '' locate-controller
    show 'Locate: a question' 'One key for each answer; `--log FILE` keeps them, and screen and command go on from it.' locate-question
    show 'Locate: by pages of faders' '' locate-faders
    show 'Locate: an audience is in' '' locate-audience
    show 'Function check' 'C, or `walk --screen`: one unit after another; what is moved ticks itself off.' walk
    show 'Function check: answered' '`--log FILE` (`walk --notes FILE`) keeps the answers.' walk-answered
    show 'Review: rig' '`#` is the moment, `!` a fault, `m` a mark, `A` and `B` the points.' review-rig
    show 'Review: universe' 'A moment as it was live.' review-universe
    show 'Review: unit' '' review-unit
    show 'Review: findings' '' review-findings
} > docs/screens.md
