namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: nothing is on the line.</summary>
internal sealed class LineNotConnected() : FindingCause(
    new CauseCard("line-silent", CauseGroup.Cable, "nothing is on the line")
    {
        Needs = [CauseInputs.Line],
        Test = "No channel of the recording ever changes its level.",
        NotSeen = "The line carries edges.",
        Fix = "Check the probe and its ground; then whether the sender is on, and the port set as an output.",
        Check = new NextCheck("See whether the gateway's port shows activity.", 20),
        Cautions = [Caution.Returning],
    },
    "line-not-connected");
