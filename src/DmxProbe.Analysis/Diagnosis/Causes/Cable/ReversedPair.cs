namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: data pair reversed.</summary>
internal sealed class ReversedPair() : FindingCause(
    new CauseCard("reversed-pair", CauseGroup.Cable, "data pair reversed")
    {
        Needs = [CauseInputs.Line],
        Test = "The line idles low and its breaks are high, no other channel carries the opposite, and nobody said so (a receiver on such a pair reads 254 - 4 x (value mod 64)).",
        NotSeen = "The line idles high: the pair is not reversed at this point.",
        Explains = ["framing-errors", "line-not-dmx"],
        Fix = "Find the swapped pair or adapter (pins 2 and 3).",
        Check = new NextCheck("Try the line with another adapter or cable.", 120),
        Cautions = [Caution.Unplugging],
    },
    "reversed-pair");
