namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: sent to the multicast group of another universe.</summary>
internal sealed class WrongGroup() : FindingCause(
    new CauseCard("wrong-multicast-group", CauseGroup.Network, "sent to the multicast group of another universe")
    {
        Needs = [CauseInputs.Network],
        Test = "The multicast group of a packet is not that of its universe (E1.31-2018 9.3.1 and 9.3.2).",
        NotSeen = "Every multicast packet is in the group of its universe.",
        Fix = "The sender's software is at fault; unicast to the gateway helps until it is mended.",
        Check = new NextCheck("Look at the destination setting of the sender.", 60),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "sacn-wrong-group");
