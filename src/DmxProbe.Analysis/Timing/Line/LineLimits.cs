namespace DmxProbe.Analysis.Timing.Line;

/// <summary>
/// Every limit on a DMX512 line by role, in one table, each with where it is from. The texts of E1.11 and E1.20 were not
/// read: figures are from published libraries and papers that cite them, or from memory, and say which. So no clause is
/// quoted. All times in microseconds.
/// </summary>
public static class LineLimits
{
    private const string E111 = "E1.11 (2008), by secondary sources that cite it; the text was not read";
    private const string E111Memory = "E1.11, from memory, not confirmed";
    private const string E111Rate = "computed from 245 to 255 kbit/s: E1.11 (2008), by secondary sources";
    private const string E111Slots = "E1.11 (2008): a START code and at most 512 slots, by secondary sources";
    private const string E111Test = "E1.11 (2008), test packet, by secondary sources that cite it; the text was not read";
    private const string E120 = "E1.20 (2010), by secondary sources that cite it; the text was not read";
    private const string E120Memory = "E1.20, from memory, not confirmed";
    private const double Second = 1e6;
    private const double SlowestSlot = 11 * 4.08;
    private const double FastestSlot = 11 * 3.92;

    private static readonly Dictionary<(LineRole, LineQuantity), Pair> Table = new()
    {
        [(LineRole.Transmitter, LineQuantity.Break)] = new(new(92, null, E111), new(88, null, E111)),
        [(LineRole.Transmitter, LineQuantity.MarkAfterBreak)] = new(new(12, Second, E111), new(8, Second, E111)),
        [(LineRole.Transmitter, LineQuantity.SlotTime)] = new(new(FastestSlot, SlowestSlot, E111Rate), null),
        [(LineRole.Transmitter, LineQuantity.BitTime)] = new(new(3.92, 4.08, E111Rate), null),
        [(LineRole.Transmitter, LineQuantity.InterSlot)] = new(new(0, Second, E111), new(0, Second, E111Memory)),
        [(LineRole.Transmitter, LineQuantity.MarkBeforeBreak)] = new(new(0, Second, E111), new(0, Second, E111Memory)),
        [(LineRole.Transmitter, LineQuantity.BreakToBreak)] = new(new(1204, Second, E111), new(1196, 1.25 * Second, E111)),
        [(LineRole.Transmitter, LineQuantity.Silence)] = new(new(null, Second, E111Memory), new(null, 1.25 * Second, E111)),
        [(LineRole.Transmitter, LineQuantity.SlotCount)] = new(new(0, 512, E111Slots), null),

        [(LineRole.TestPacket, LineQuantity.Break)] = new(new(88, 120, E111Test), new(88, null, E111)),
        [(LineRole.TestPacket, LineQuantity.MarkAfterBreak)] = new(new(8, 16, E111Test), new(8, Second, E111)),
        [(LineRole.TestPacket, LineQuantity.PacketTime)] = new(new(null, 25_000, E111Test), null),
        [(LineRole.TestPacket, LineQuantity.SlotCount)] = new(new(512, 512, E111Test), null),

        [(LineRole.RdmController, LineQuantity.Break)] = new(new(176, 352, E120), new(88, Second, E120)),
        [(LineRole.RdmController, LineQuantity.MarkAfterBreak)] = new(new(12, 88, E120), new(8, null, E120Memory)),
        [(LineRole.RdmController, LineQuantity.InterSlot)] = new(new(0, 2_000, E120), new(0, 2_100, E120Memory)),
        [(LineRole.RdmController, LineQuantity.InterSlotMean)] = new(new(0, 76, E120Memory), null),
        [(LineRole.RdmController, LineQuantity.SlotCount)] = new(new(25, 256, E120), null),
        [(LineRole.RdmController, LineQuantity.SpacingAfterNoAnswer)] = new(new(3_000, null, E120), null),
        [(LineRole.RdmController, LineQuantity.SpacingAfterDiscovery)] = new(new(5_800, null, E120), null),
        [(LineRole.RdmController, LineQuantity.SpacingAfterBroadcast)] = new(new(176, null, E120), null),

        [(LineRole.RdmResponder, LineQuantity.Break)] = new(new(176, 352, E120), new(88, 352, E120)),
        [(LineRole.RdmResponder, LineQuantity.MarkAfterBreak)] = new(new(12, 88, E120), new(8, null, E120Memory)),
        [(LineRole.RdmResponder, LineQuantity.InterSlot)] = new(new(0, 2_000, E120), new(0, 2_100, E120Memory)),
        [(LineRole.RdmResponder, LineQuantity.InterSlotMean)] = new(new(0, 76, E120Memory), null),
        [(LineRole.RdmResponder, LineQuantity.SlotCount)] = new(new(25, 256, E120), null),
        [(LineRole.RdmResponder, LineQuantity.Turnaround)] = new(new(176, 2_000, E120), new(null, 2_800, E120)),
    };

    /// <summary>The limit on the mark before break between test packets that follow each other.</summary>
    public static LimitRange TestPacketsBackToBack { get; } = new(0, 88, E111Test);

    /// <summary>What holds for a role; for RDM and test packets what E1.11 says of every packet where they say nothing of their own.</summary>
    /// <param name="role">Whose limits.</param>
    /// <param name="quantity">Of what.</param>
    /// <param name="receive">What a receiver must accept; null where nothing is known.</param>
    /// <returns>What may be sent; null where nothing is known, and for a receiver.</returns>
    public static LimitRange? For(LineRole role, LineQuantity quantity, out LimitRange? receive)
    {
        if (!Table.TryGetValue((role, quantity), out Pair? pair))
        {
            pair = Table.GetValueOrDefault((LineRole.Transmitter, quantity));
        }

        receive = pair?.Receive;
        return role == LineRole.Receiver ? null : pair?.Transmit;
    }

    private sealed record Pair(LimitRange? Transmit, LimitRange? Receive);
}
