namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: Art-Net packets that break a rule.</summary>
internal sealed class ArtNetRules() : FindingCause(
    new CauseCard("art-net-rules", CauseGroup.Network, "Art-Net packets that break a rule")
    {
        Needs = [CauseInputs.Network],
        Test = "Readable Art-Net packets that break a rule (Art-Net 4, 1.4dn).",
        NotSeen = "No Art-Net packet breaks a rule.",
        Fix = "The sender's or device's software is at fault; a newer one may help.",
        Check = new NextCheck("Try another receiver.", 120),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "art-net-old-version",
    "art-net-bit-7",
    "art-nzs-start-code",
    "art-rdm-broadcast",
    "device-states-other-address",
    "device-too-many-ports",
    "poll-interval",
    "device-programmed");
