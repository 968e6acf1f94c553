namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: Art-Net at another port.</summary>
internal sealed class ArtNetPort() : FindingCause(
    new CauseCard("art-net-port", CauseGroup.Network, "Art-Net at another port")
    {
        Needs = [CauseInputs.Network],
        Test = "Art-Net from or to another UDP port than 6454 (Art-Net 4, 1.4dn, on its UDP port).",
        NotSeen = "All Art-Net is at its port.",
        Fix = "Set the sender to port 6454.",
        Check = new NextCheck("Look at the port setting of the sender.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "art-net-port");
