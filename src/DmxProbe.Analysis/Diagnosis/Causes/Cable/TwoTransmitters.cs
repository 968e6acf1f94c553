namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: two transmitters on one line.</summary>
internal sealed class TwoTransmitters() : FindingCause(
    new CauseCard("two-transmitters", CauseGroup.Cable, "two transmitters on one line")
    {
        Needs = [CauseInputs.Line],
        Test = "Over 1 % of the characters lack a stop bit and over 5 % of the edges stand between bits (common practice, no source).",
        NotSeen = "Edges stand where bits are: nobody else drives the line.",
        Explains = ["framing-errors", "line-not-dmx", "slot-count-varies-on-line", "more-than-512-slots-on-line", "characters-without-break"],
        Fix = "Find the second sender (a unit set to master, a controller left on a split) and take it off.",
        Check = new NextCheck("Unplug the unit added last.", 120, Ladder: true),
        Cautions = [Caution.Unplugging],
    },
    "two-transmitters");
