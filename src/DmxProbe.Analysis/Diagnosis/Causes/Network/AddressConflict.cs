namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: one IP address twice.</summary>
internal sealed class AddressConflict() : FindingCause(
    new CauseCard("address-conflict", CauseGroup.Network, "one IP address twice")
    {
        Needs = [CauseInputs.Network],
        Test = "One IPv4 address at two adapters, by ARP or by ArtPollReply (common practice, no source).",
        NotSeen = "No IPv4 address is at two adapters.",
        Fix = "Give each device an address of its own.",
        Check = new NextCheck("Unplug one of the two and see whether the other answers.", 60),
        Cautions = [Caution.Unplugging],
    },
    "address-conflict",
    "device-address-shared");
