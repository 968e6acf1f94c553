namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a universe number that is reserved.</summary>
internal sealed class ReservedUniverse() : FindingCause(
    new CauseCard("reserved-universe", CauseGroup.Network, "a universe number that is reserved")
    {
        Needs = [CauseInputs.Network],
        Test = "sACN universe 0 or above 63999 (E1.31-2018 9.1.1).",
        NotSeen = "Every sACN universe number is one that may be used.",
        Fix = "Use universes 1 to 63999.",
        Check = new NextCheck("Look at the universe numbers of the sender.", 30),
        Frequency = CauseFrequency.Rare,
    },
    "sacn-reserved-universe");
