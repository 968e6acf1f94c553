namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: a unit runs past slot 512, by what it says itself.</summary>
internal sealed class PastSlot512ByRdm() : FindingCause(
    new CauseCard("rdm-past-slot-512", CauseGroup.Addressing, "a unit runs past slot 512, by what it says itself")
    {
        Needs = [CauseInputs.Rdm],
        Test = "An RDM device says an address and a footprint that pass slot 512.",
        NotSeen = "No RDM device runs past slot 512.",
        Fix = "Set it to a lower address or a mode with fewer slots.",
        Check = new NextCheck("Look whether only its last functions are dead.", 30),
        Cautions = [Caution.Setting],
    },
    "rdm-past-slot-512");
