namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a device fell silent.</summary>
internal sealed class DeviceSilent() : FindingCause(
    new CauseCard("device-silent", CauseGroup.Network, "a device fell silent")
    {
        Needs = [CauseInputs.Network],
        Test = "A device that answered ArtPoll answers no more (Art-Net 4, 1.4dn).",
        NotSeen = "Every device that answered goes on answering.",
        Fix = "Look at its power, its cable and its indicators.",
        Check = new NextCheck("Look at its indicators.", 30),
        Cautions = [Caution.Returning],
    },
    "device-silent");
