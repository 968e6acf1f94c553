namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: RDM packets arrive damaged.</summary>
internal sealed class DamagedRdm() : FindingCause(
    new CauseCard("rdm-damaged", CauseGroup.Cable, "RDM packets arrive damaged")
    {
        Needs = [CauseInputs.Line],
        Test = "RDM packets with a wrong length or checksum, discovery replies not counted.",
        NotSeen = "No RDM packet arrived damaged.",
        Fix = "Look at the termination at both ends and at splitters in the line: RDM needs ones that pass both ways.",
        Check = new NextCheck("Switch RDM off at the controller and see whether the trouble goes.", 30),
        Cautions = [Caution.Unplugging],
    },
    "rdm-damaged");
