namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: one chain, two universes.</summary>
internal sealed class ChainOfTwoUniverses() : SheetFindingCause(
    new CauseCard("chain-of-two-universes", CauseGroup.Addressing, "one chain, two universes")
    {
        Needs = [CauseInputs.Sheet],
        Test = "Units of one cable chain have two universes on the sheet: a cable carries one.",
        NotSeen = "Every chain is of one universe.",
        Fix = "Mend the sheet, or part the chain.",
        Check = new NextCheck("Follow the cable.", 120, Ladder: true),
        Cautions = [Caution.Unplugging, Caution.Ladder],
    },
    "chain-of-two-universes");
