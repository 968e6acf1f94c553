namespace DmxProbe.Analysis.Diagnosis.Causes.Capture;

/// <summary>Cause: the capture ends early or is cut.</summary>
internal sealed class CaptureCut() : FindingCause(
    new CauseCard("capture-cut", CauseGroup.Capture, "the capture ends early or is cut")
    {
        Needs = [CauseInputs.Network, CauseInputs.Line, CauseInputs.Serial],
        Test = "The file breaks off, or its snap length cut packets.",
        NotSeen = "The capture is whole.",
        Fix = "Capture again, whole packets.",
        Check = new NextCheck("Capture again.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "input-cut",
    "cut-by-snap-length");
