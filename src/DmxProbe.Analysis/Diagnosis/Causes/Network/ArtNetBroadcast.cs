namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: Art-Net is broadcast.</summary>
internal sealed class ArtNetBroadcast() : FindingCause(
    new CauseCard("art-net-broadcast", CauseGroup.Network, "Art-Net is broadcast")
    {
        Needs = [CauseInputs.Network],
        Test = "ArtDmx to a broadcast address; heavy from about 40 universes on (Art-Net 4, 1.4dn, page 74; the number is common practice).",
        NotSeen = "No Art-Net levels are broadcast.",
        Fix = "Set the sender to unicast if it can.",
        Check = new NextCheck("Look at the destination setting of the sender.", 30),
    },
    "art-net-broadcast");
