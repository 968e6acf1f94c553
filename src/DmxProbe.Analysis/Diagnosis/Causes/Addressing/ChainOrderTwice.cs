namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: one place in a chain for two units.</summary>
internal sealed class ChainOrderTwice() : SheetFindingCause(
    new CauseCard("chain-order-twice", CauseGroup.Addressing, "one place in a chain for two units")
    {
        Needs = [CauseInputs.Sheet],
        Test = "Two units have the same place in a chain.",
        NotSeen = "Every place in a chain has one unit.",
        Fix = "Mend the order on the sheet.",
        Check = new NextCheck("Follow the cable.", 120, Ladder: true),
        Cautions = [Caution.Ladder],
        Frequency = CauseFrequency.Rare,
    },
    "chain-order-twice");
