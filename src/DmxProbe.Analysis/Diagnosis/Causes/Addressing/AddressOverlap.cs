namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: units overlap.</summary>
internal sealed class AddressOverlap() : SheetFindingCause(
    new CauseCard("address-overlap", CauseGroup.Addressing, "units overlap")
    {
        Needs = [CauseInputs.Sheet],
        Test = "The slots of two units on one universe intersect, by address and footprint.",
        NotSeen = "No two units of the sheet overlap.",
        Fix = "Give one of them another address.",
        Check = new NextCheck("Read both addresses off the units.", 60),
        Cautions = [Caution.Setting],
        Frequency = CauseFrequency.Common,
    },
    "address-overlap");
