namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: a unit is told to show itself.</summary>
internal sealed class IdentifyOn() : FindingCause(
    new CauseCard("rdm-identify-on", CauseGroup.UnitState, "a unit is told to show itself")
    {
        Needs = [CauseInputs.Rdm],
        Test = "The last word of an RDM controller to a device about IDENTIFY_DEVICE is on.",
        NotSeen = "No RDM device is told to show itself.",
        Fix = "Switch identify off at the RDM controller.",
        Check = new NextCheck("Look for a unit that flashes whatever it is told.", 20),
    },
    "rdm-identify-on");
