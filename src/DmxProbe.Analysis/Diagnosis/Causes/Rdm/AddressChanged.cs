namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: an address was changed while this was captured.</summary>
internal sealed class AddressChanged() : FindingCause(
    new CauseCard("rdm-address-changed", CauseGroup.Addressing, "an address was changed while this was captured")
    {
        Needs = [CauseInputs.Rdm],
        Test = "An RDM device says another start address than it said before.",
        NotSeen = "No RDM device changed its address.",
        Fix = "Find out who set it: a controller that numbers units by itself, or somebody at the unit.",
        Check = new NextCheck("Ask who set addresses tonight.", 20),
        Frequency = CauseFrequency.Rare,
    },
    "rdm-address-changed");
