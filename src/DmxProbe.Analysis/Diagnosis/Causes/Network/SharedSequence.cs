namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: one sequence count for all universes.</summary>
internal sealed class SharedSequence() : FindingCause(
    new CauseCard("sequence-over-universes", CauseGroup.Network, "one sequence count for all universes")
    {
        Needs = [CauseInputs.Network],
        Test = "A sender counts its packets over all universes, so that each seems to lose some (E1.31-2018 6.2.5).",
        NotSeen = "Every universe has a sequence count of its own.",
        Explains = ["packet-loss"],
        Fix = "The sender's software is at fault.",
        Check = new NextCheck("Try another receiver.", 120),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "sequence-over-universes");
