namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets arrive in heaps.</summary>
internal sealed class Bursts() : FindingCause(
    new CauseCard("multicast-bursts", CauseGroup.Network, "packets arrive in heaps")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets of a steady sender that arrive in heaps, as over radio (common practice, no source).",
        NotSeen = "Packets do not arrive in heaps.",
        Fix = "Use a cable instead of radio, or unicast.",
        Check = new NextCheck("Ask whether radio is on the way.", 20),
        Frequency = CauseFrequency.Common,
    },
    "packets-in-bursts");
