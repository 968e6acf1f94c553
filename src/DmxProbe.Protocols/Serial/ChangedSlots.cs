using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Serial;

/// <summary>
/// View of the payload of a change-of-state message: one octet = first slot / 8, a map of 5 octets, then a value for each bit
/// set in the map. From memory: bit 0 of the first map octet stands for octet 8 x start of the packet, where octet 0 is the START
/// code and octet 1 is slot 1; 40 octets are covered.
/// </summary>
public readonly ref struct ChangedSlots
{
    /// <summary>Octets of a packet that one message covers.</summary>
    public const int Covered = 8 * MapLength;

    private const int MapAt = 1;
    private const int MapLength = 5;
    private const int ValuesAt = MapAt + MapLength;
    private const int OctetsPerStep = 8;
    private const int OctetsOfPacket = 513;
    private readonly ReadOnlySpan<byte> _payload;

    private ChangedSlots(ReadOnlySpan<byte> payload) => _payload = payload;

    /// <summary>First octet of the packet that the map covers; octet 0 is the START code.</summary>
    public int First => _payload[0] * OctetsPerStep;

    /// <summary>Looks at a payload.</summary>
    /// <param name="payload">The payload.</param>
    /// <param name="changed">The changes, valid as long as the payload.</param>
    /// <param name="error">Why there are none.</param>
    public static bool TryParse(ReadOnlySpan<byte> payload, out ChangedSlots changed, out WireError error)
    {
        changed = default;
        if (payload.Length < ValuesAt)
        {
            error = WireError.Truncated(ValuesAt, payload.Length);
            return false;
        }

        int values = 0;
        int last = -1;
        for (int bit = 0; bit < Covered; bit++)
        {
            if (IsSet(payload, bit))
            {
                values++;
                last = bit;
            }
        }

        if (payload.Length < ValuesAt + values)
        {
            error = WireError.Truncated(ValuesAt + values, payload.Length);
            return false;
        }

        if ((payload[0] * OctetsPerStep) + last >= OctetsOfPacket)
        {
            error = new WireError(WireErrorKind.Invalid, 0, (OctetsOfPacket - 1 - last) / OctetsPerStep, payload[0]);
            return false;
        }

        error = default;
        changed = new ChangedSlots(payload);
        return true;
    }

    /// <summary>Writes the changed values into a packet.</summary>
    /// <param name="packet">START code and 512 slots: 513 octets.</param>
    /// <returns>The last octet written, or -1 where nothing changed.</returns>
    public int Apply(Span<byte> packet)
    {
        int value = ValuesAt;
        int last = -1;
        for (int bit = 0; bit < Covered; bit++)
        {
            if (IsSet(_payload, bit))
            {
                last = First + bit;
                packet[last] = _payload[value++];
            }
        }

        return last;
    }

    private static bool IsSet(ReadOnlySpan<byte> payload, int bit) =>
        (payload[MapAt + (bit / OctetsPerStep)] & (1 << (bit % OctetsPerStep))) != 0;
}
