namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: an Art-Net length that is not allowed.</summary>
internal sealed class ArtNetLength() : FindingCause(
    new CauseCard("art-net-length", CauseGroup.Network, "an Art-Net length that is not allowed")
    {
        Needs = [CauseInputs.Network],
        Test = "Length odd, 0 or over 512 (Art-Net 4, 1.4dn, page 74: even, 2 to 512).",
        NotSeen = "Every Art-Net length is one that may be sent.",
        Explains = ["universe-not-sent", "sender-stopped", "sender-silent", "packet-loss"],
        Fix = "The sender's software is at fault; send whole universes if it can.",
        Check = new NextCheck("Try another receiver.", 120),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "art-net-length");
