namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a sender ended its stream.</summary>
internal sealed class StreamEnded() : FindingCause(
    new CauseCard("stream-ended", CauseGroup.Network, "a sender ended its stream")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets with Stream_Terminated (E1.31-2018 6.2.6: three are sent).",
        NotSeen = "No sACN stream was ended.",
        Explains = ["sender-stopped"],
        Fix = "If it should send, start its output again.",
        Check = new NextCheck("Ask whether its output was switched off on purpose.", 15),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "stream-ended");
