using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Serial;

/// <summary>
/// View of the payload of a message that holds a received DMX packet: status octets, START code, slots. From memory: status bit
/// 0 is an overflow of the receive queue, bit 1 an overrun; both mean that slots may be missing or wrong.
/// </summary>
public readonly ref struct ReceivedPacket
{
    private const int MostSlots = 512;
    private readonly ReadOnlySpan<byte> _payload;
    private readonly int _statusOctets;

    private ReceivedPacket(ReadOnlySpan<byte> payload, int statusOctets)
    {
        _payload = payload;
        _statusOctets = statusOctets;
    }

    /// <summary>First status octet; 0 where the interface sends none.</summary>
    public byte Status => _statusOctets == 0 ? (byte)0 : _payload[0];

    /// <summary>True where bit 0 or bit 1 of the status says that octets were lost inside the interface.</summary>
    public bool IsDamaged => (Status & 3) != 0;

    /// <summary>START code.</summary>
    public byte StartCode => _payload[_statusOctets];

    /// <summary>Slot 1 first, at most 512.</summary>
    public ReadOnlySpan<byte> Slots => _payload[(_statusOctets + 1)..];

    /// <summary>Looks at a payload.</summary>
    /// <param name="payload">The payload.</param>
    /// <param name="options">How many status octets it starts with.</param>
    /// <param name="packet">The packet, valid as long as the payload.</param>
    /// <param name="error">Why there is none.</param>
    public static bool TryParse(ReadOnlySpan<byte> payload, FramedOptions options, out ReceivedPacket packet, out WireError error)
    {
        packet = default;
        int least = options.StatusOctets + 1;
        if (payload.Length < least)
        {
            error = WireError.Truncated(least, payload.Length);
            return false;
        }

        if (payload.Length > least + MostSlots)
        {
            error = new WireError(WireErrorKind.Invalid, least + MostSlots, least + MostSlots, payload.Length);
            return false;
        }

        error = default;
        packet = new ReceivedPacket(payload, options.StatusOctets);
        return true;
    }
}
