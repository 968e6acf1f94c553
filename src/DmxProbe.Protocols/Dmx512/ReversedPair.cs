namespace DmxProbe.Protocols.Dmx512;

/// <summary>
/// What a receiver makes of DMX512 when data + and data - are swapped: it takes stop bits for start bits. Follows from the
/// line format alone; two public threads of people with a swapped pair show the same values.
/// </summary>
public static class ReversedPair
{
    /// <summary>The octet that such a receiver reads for one that was sent back to back with others.</summary>
    /// <param name="sent">The octet sent.</param>
    /// <param name="framingError">True where the receiver finds its stop bit missing: bit 6 of the octet is set.</param>
    public static byte Received(byte sent, out bool framingError)
    {
        framingError = (sent & 0x40) != 0;
        return (byte)(254 - 4 * (sent & 0x3F));
    }
}
