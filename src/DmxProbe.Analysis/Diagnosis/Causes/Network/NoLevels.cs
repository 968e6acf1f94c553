namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: nothing that drives a light is in the capture.</summary>
internal sealed class NoLevels() : FindingCause(
    new CauseCard("no-levels", CauseGroup.Network, "nothing that drives a light is in the capture")
    {
        Needs = [CauseInputs.Network, CauseInputs.Line, CauseInputs.Serial],
        Test = "Not one frame of levels in the whole input.",
        NotSeen = "Levels are sent.",
        Explains = ["universe-not-sent"],
        Fix = "See that the controller's output is on, and capture where the lighting network passes.",
        Check = new NextCheck("See whether the controller's output is on, and which network interface was captured.", 20),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    },
    "no-levels",
    "no-packet-found",
    "no-dmx-label");
