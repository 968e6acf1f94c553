namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: the network is faster than a line.</summary>
internal sealed class RateAboveLine() : FindingCause(
    new CauseCard("rate-above-line", CauseGroup.Network, "the network is faster than a line")
    {
        Needs = [CauseInputs.Network],
        Test = "Whole universes at more than 45 Hz: a DMX512 line carries 512 slots at most 44.995 times a second (computed from E1.11 minima, secondary sources).",
        NotSeen = "No sender is faster than a line can follow.",
        Fix = "Lower the sender's rate where gateways feed lines.",
        Check = new NextCheck("Look at the rate setting of the sender.", 30),
    },
    "faster-than-a-line");
