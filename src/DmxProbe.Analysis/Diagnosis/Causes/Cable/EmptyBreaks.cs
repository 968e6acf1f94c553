namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: breaks with nothing behind them.</summary>
internal sealed class EmptyBreaks() : FindingCause(
    new CauseCard("empty-breaks", CauseGroup.Cable, "breaks with nothing behind them")
    {
        Needs = [CauseInputs.Serial],
        Test = "Breaks after which no character comes.",
        NotSeen = "Every break has characters behind it.",
        Fix = "An open or shorted line, a reversed pair or two transmitters can look so: record the line's edges.",
        Check = new NextCheck("Look at the plug of the line.", 30),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "empty-breaks");
