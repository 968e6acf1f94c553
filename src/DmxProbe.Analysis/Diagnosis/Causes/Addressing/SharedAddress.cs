namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: units share an address and the sheet does not say so.</summary>
internal sealed class SharedAddress() : SheetFindingCause(
    new CauseCard("unintended-shared-address", CauseGroup.Addressing, "units share an address and the sheet does not say so")
    {
        Needs = [CauseInputs.Sheet],
        Test = "Two units have one address, and the sheet does not say that they share it.",
        NotSeen = "No two units share an address unsaid.",
        Fix = "Part them, or say on the sheet that they share it.",
        Check = new NextCheck("Ask whether they are meant to do the same.", 15),
        Cautions = [Caution.Setting],
        Frequency = CauseFrequency.Common,
    },
    "shared-address");
