namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a device answers with an odd ArtPollReply.</summary>
internal sealed class OddPollReply() : FindingCause(
    new CauseCard("odd-poll-reply", CauseGroup.Network, "a device answers with an odd ArtPollReply")
    {
        Needs = [CauseInputs.Network],
        Test = "An ArtPollReply shorter than 239 octets, or one that states another port than 6454 (Art-Net 4, 1.4dn).",
        NotSeen = "Every ArtPollReply is as it should be.",
        Fix = "Set the universe at the sender by hand; a newer firmware may help.",
        Check = new NextCheck("See whether the controller lists the device.", 30),
        Frequency = CauseFrequency.Rare,
    },
    "odd-poll-reply");
