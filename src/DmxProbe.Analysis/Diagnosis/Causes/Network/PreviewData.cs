namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: preview data only.</summary>
internal sealed class PreviewData() : FindingCause(
    new CauseCard("preview-data", CauseGroup.Network, "preview data only")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets with Preview_Data set (E1.31-2018 6.2.6: must not drive live output).",
        NotSeen = "No packet is marked as preview.",
        Fix = "If lights should follow this sender, switch its preview off.",
        Check = new NextCheck("Ask whether somebody works blind.", 15),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "preview-data");
