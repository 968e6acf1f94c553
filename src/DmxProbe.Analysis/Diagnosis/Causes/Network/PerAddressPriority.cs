namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: priorities slot by slot.</summary>
internal sealed class PerAddressPriority() : FindingCause(
    new CauseCard("per-address-priority", CauseGroup.Network, "priorities slot by slot")
    {
        Needs = [CauseInputs.Network],
        Test = "Frames of START code DDh (registered for per-address priority).",
        NotSeen = "Nobody sends priorities slot by slot.",
        Fix = "Receivers without it obey by universe, others slot by slot: let all of them do the same.",
        Check = new NextCheck("See whether the units that differ hang on another make of gateway.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "per-address-priority");
