namespace DmxProbe.Analysis.Diagnosis.Causes.Capture;

/// <summary>Cause: the capture itself lost records.</summary>
internal sealed class CaptureLoss() : FindingCause(
    new CauseCard("capture-lost-records", CauseGroup.Capture, "the capture itself lost records")
    {
        Needs = [CauseInputs.Network, CauseInputs.Line, CauseInputs.Serial],
        Test = "The capture says that it lost records.",
        NotSeen = "The capture lost nothing, as far as it says.",
        Fix = "Capture again with a larger buffer or fewer other programs running.",
        Check = new NextCheck("Capture again.", 60),
    },
    "capture-lost-records");
