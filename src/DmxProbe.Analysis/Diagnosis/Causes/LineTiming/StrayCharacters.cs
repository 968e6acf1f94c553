namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: characters without a break.</summary>
internal sealed class StrayCharacters() : FindingCause(
    new CauseCard("characters-without-break", CauseGroup.LineTiming, "characters without a break")
    {
        Needs = [CauseInputs.Line],
        Test = "Characters that follow no break and answer no discovery.",
        NotSeen = "Every character follows a break.",
        Fix = "Look at what else may send on this line: a unit set to master, a controller left on a split.",
        Check = new NextCheck("Unplug the unit added last.", 120, Ladder: true),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Unplugging],
    },
    "characters-without-break");
