namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets are lost on the way.</summary>
internal sealed class PacketLoss() : FindingCause(
    new CauseCard("packet-loss", CauseGroup.Network, "packets are lost on the way")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets missing by their sequence numbers: over 0.1 % is worth a look, over 1 % is a fault (common practice, no source). Not judged with fewer than 20 packets or where the capture itself lost some.",
        NotSeen = "No packet is missing by the sequence numbers.",
        Fix = "Capture nearer to the sender: losses that are there too are its own, else look at the switches or the radio between.",
        Check = new NextCheck("Capture at the sender's own switch port.", 300),
    },
    "lost-packets");
