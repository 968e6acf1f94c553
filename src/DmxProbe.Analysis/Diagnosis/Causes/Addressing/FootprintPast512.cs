namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: a unit runs past slot 512.</summary>
internal sealed class FootprintPast512() : SheetFindingCause(
    new CauseCard("footprint-past-512", CauseGroup.Addressing, "a unit runs past slot 512")
    {
        Needs = [CauseInputs.Sheet],
        Test = "Address plus footprint passes slot 512.",
        NotSeen = "No unit runs past slot 512.",
        Fix = "Move it to the next universe.",
        Check = new NextCheck("Look whether only its last functions are dead.", 30),
        Cautions = [Caution.Setting],
    },
    "footprint-past-512");
