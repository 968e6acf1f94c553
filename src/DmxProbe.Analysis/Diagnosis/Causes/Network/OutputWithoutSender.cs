namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: an output that nobody sends to.</summary>
internal sealed class OutputWithoutSender() : FindingCause(
    new CauseCard("output-without-sender", CauseGroup.Network, "an output that nobody sends to")
    {
        Needs = [CauseInputs.Network],
        Test = "A device lists an output to which nothing was sent (Art-Net 4, 1.4dn).",
        NotSeen = "Every output that is listed is sent to.",
        Fix = "If lights hang on it, look whether the sender has this Port-Address switched on, and whether both count from 0.",
        Check = new NextCheck("See whether lights hang on that output.", 30),
        Cautions = [Caution.Returning],
    },
    "output-without-sender");
