namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: two queriers.</summary>
internal sealed class TwoQueriers() : FindingCause(
    new CauseCard("two-queriers", CauseGroup.Network, "two queriers")
    {
        Needs = [CauseInputs.Network],
        Test = "Two addresses ask for multicast members.",
        NotSeen = "No two machines ask for multicast members.",
        Fix = "Leave the querier on in one switch only.",
        Check = new NextCheck("Count the switches with a querier.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "two-queriers");
