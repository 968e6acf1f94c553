using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: two Art-Net senders on one universe.</summary>
internal sealed class TwoArtNetSenders() : FindingCause(
    new CauseCard("two-art-net-senders", CauseGroup.Network, "two Art-Net senders on one universe")
    {
        Needs = [CauseInputs.Network],
        Test = "Two senders at once on one Port-Address (Art-Net 4, 1.4dn, pages 76 and 77: devices merge two, by highest or latest value).",
        NotSeen = "No Port-Address has two senders at once.",
        Fix = "If only one should send, switch the other off; the merge lets go 10 s later.",
        Check = new NextCheck("Ask who else sends this universe tonight.", 20),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Silencing],
    },
    "several-art-net-senders")
{
    /// <inheritdoc/>
    protected override bool Applies(Finding finding, DiagnosisCase it) => finding.Severity != Severity.Fault;
}
