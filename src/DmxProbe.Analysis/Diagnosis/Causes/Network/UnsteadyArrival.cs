namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets arrive unsteadily.</summary>
internal sealed class UnsteadyArrival() : FindingCause(
    new CauseCard("jitter", CauseGroup.Network, "packets arrive unsteadily")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets of a steady sender that arrive unsteadily (common practice, no source).",
        NotSeen = "Packets arrive as steadily as they are sent.",
        Fix = "Capture nearer to the sender: if it is steady there, look at the switches or the radio between.",
        Check = new NextCheck("Capture at the sender's own switch port.", 300),
    },
    "unsteady-arrival");
