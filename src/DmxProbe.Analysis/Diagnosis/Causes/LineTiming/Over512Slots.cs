namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: packets with more than 512 slots.</summary>
internal sealed class Over512Slots() : FindingCause(
    new CauseCard("more-than-512-slots", CauseGroup.LineTiming, "packets with more than 512 slots")
    {
        Needs = [CauseInputs.Serial],
        Test = "More than 512 slots behind the START code (E1.11: at most 512, by secondary sources).",
        NotSeen = "No packet has more than 512 slots.",
        Fix = "Look at what sends on this line.",
        Check = new NextCheck("Try another sender.", 120),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "more-than-512-slots");
