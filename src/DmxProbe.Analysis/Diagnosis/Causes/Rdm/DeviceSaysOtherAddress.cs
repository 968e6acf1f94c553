namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: the unit itself says another address.</summary>
internal sealed class DeviceSaysOtherAddress() : RdmSheetCause(
    new CauseCard("rdm-address-differs", CauseGroup.Addressing, "the unit itself says another address")
    {
        Needs = [CauseInputs.Rdm | CauseInputs.Sheet],
        Test = "An RDM device that carries the name of a unit, or that a known human error leads to, says another start address than the sheet.",
        Fix = "Set the address of the sheet.",
        Check = new NextCheck("Read it off the unit's display.", 60, Ladder: true),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
    },
    "rdm-address-differs");
