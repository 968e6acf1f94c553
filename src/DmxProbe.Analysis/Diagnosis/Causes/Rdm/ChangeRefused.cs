namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: a unit refused to be set.</summary>
internal sealed class ChangeRefused() : FindingCause(
    new CauseCard("rdm-change-refused", CauseGroup.Addressing, "a unit refused to be set")
    {
        Needs = [CauseInputs.Rdm],
        Test = "An RDM device answers a change of a setting with a refusal.",
        NotSeen = "No RDM device refused a change.",
        Fix = "Unlock it at its own menu, or set it there.",
        Check = new NextCheck("Read the setting off its display.", 60, Ladder: true),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Setting, Caution.Ladder],
    },
    "rdm-change-refused");
