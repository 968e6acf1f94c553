namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: losses cannot be counted.</summary>
internal sealed class UncountedSequence() : FindingCause(
    new CauseCard("sequence-not-used", CauseGroup.Network, "losses cannot be counted")
    {
        Needs = [CauseInputs.Network],
        Test = "Art-Net with sequence number 0 (Art-Net 4, 1.4dn, page 74: 0 switches it off).",
        NotSeen = "Every Art-Net sender counts its packets.",
        Fix = "Nothing has to be done; losses of this sender cannot be seen.",
        Check = new NextCheck("Switch the sequence on at the sender if it can.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "sequence-not-used");
