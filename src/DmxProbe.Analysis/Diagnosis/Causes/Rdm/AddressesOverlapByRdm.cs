namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: units overlap, by what they say themselves.</summary>
internal sealed class AddressesOverlapByRdm() : FindingCause(
    new CauseCard("rdm-addresses-overlap", CauseGroup.Addressing, "units overlap, by what they say themselves")
    {
        Needs = [CauseInputs.Rdm],
        Test = "Two RDM devices of one universe say start addresses and footprints that share slots.",
        NotSeen = "No two RDM devices share slots.",
        Fix = "Set one of them to its own address.",
        Check = new NextCheck("Hold both against the sheet: dmxprobe patch check SHEET --capture INPUT.", 60),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
    },
    "rdm-addresses-overlap",
    "rdm-same-address");
