using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: three or more Art-Net senders on one universe.</summary>
internal sealed class ThirdArtNetSender() : FindingCause(
    new CauseCard("third-art-net-sender", CauseGroup.Network, "three or more Art-Net senders on one universe")
    {
        Needs = [CauseInputs.Network],
        Test = "Three or more senders at once on one Port-Address (Art-Net 4, 1.4dn, page 77: a merge takes two; the third is ignored).",
        NotSeen = "No Port-Address has three senders at once.",
        Fix = "Leave at most two senders, or merge before the network.",
        Check = new NextCheck("Count the controllers that are on.", 20),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Silencing],
    },
    "several-art-net-senders")
{
    /// <inheritdoc/>
    protected override bool Applies(Finding finding, DiagnosisCase it) => finding.Severity == Severity.Fault;
}
