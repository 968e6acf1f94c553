namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: too many units on one line.</summary>
internal sealed class ChainTooLong() : SheetFindingCause(
    new CauseCard("too-many-unit-loads", CauseGroup.Addressing, "too many units on one line")
    {
        Needs = [CauseInputs.Sheet],
        Test = "More than 32 units on a chain (32 unit loads on a segment; common practice from E1.11's EIA-485 base, not read).",
        NotSeen = "No chain has more than 32 units.",
        Fix = "Part the chain with a splitter.",
        Check = new NextCheck("Count the units between two splitters.", 60),
        Cautions = [Caution.Unplugging, Caution.Ladder],
    },
    "chain-too-long");
