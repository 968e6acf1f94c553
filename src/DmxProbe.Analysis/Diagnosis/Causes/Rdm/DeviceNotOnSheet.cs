namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: a unit that is not on the sheet.</summary>
internal sealed class DeviceNotOnSheet() : RdmSheetCause(
    new CauseCard("rdm-not-on-sheet", CauseGroup.Addressing, "a unit that is not on the sheet")
    {
        Needs = [CauseInputs.Rdm | CauseInputs.Sheet],
        Test = "An RDM device says a start address at which no unit of the sheet starts.",
        Fix = "Put it on the sheet, or set its address.",
        Check = new NextCheck("Read it off the unit's display.", 60, Ladder: true),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
    },
    "rdm-not-on-sheet");
