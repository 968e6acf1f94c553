namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: multicast that nobody asked for.</summary>
internal sealed class Flood() : FindingCause(
    new CauseCard("multicast-flood", CauseGroup.Network, "multicast that nobody asked for")
    {
        Needs = [CauseInputs.Network],
        Test = "Multicast arrives that nobody joined; worth a look where it is much (common practice, no source).",
        Fix = "Switch snooping on in the switches, with one querier.",
        Check = new NextCheck("Look at the snooping setting of the switch.", 60),
        Frequency = CauseFrequency.Rare,
        Missing = CauseInputs.Person,
    },
    "multicast-nobody-joined");
