namespace DmxProbe.Analysis.Diagnosis.Causes.Capture;

/// <summary>Cause: this computer loses octets.</summary>
internal sealed class SerialOverrun() : FindingCause(
    new CauseCard("serial-overrun", CauseGroup.Capture, "this computer loses octets")
    {
        Needs = [CauseInputs.Serial],
        Test = "The port, its driver or the interface says that it lost octets.",
        NotSeen = "Neither port nor interface lost octets.",
        Fix = "Plug the adapter in directly, close other programs, or use another adapter.",
        Check = new NextCheck("Plug the adapter in directly.", 30),
        Frequency = CauseFrequency.Rare,
    },
    "serial-overrun",
    "interface-lost-octets");
