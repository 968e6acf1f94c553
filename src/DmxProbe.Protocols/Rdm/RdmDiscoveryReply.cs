namespace DmxProbe.Protocols.Rdm;

/// <summary>
/// Answer to DISC_UNIQUE_BRANCH: no break, no START code; 0 to 7 octets FEh, AAh, then the UID and a checksum with every
/// octet sent twice, the zeros of one copy filled by the other (ANSI E1.20, known from secondary sources). Several
/// responders may talk at once: then nothing decodes, and that is normal.
/// </summary>
public static class RdmDiscoveryReply
{
    /// <summary>Most octets of an answer.</summary>
    public const int Longest = MostPreamble + 1 + EncodedLength;

    private const int MostPreamble = 7;
    private const int EncodedUid = 2 * RdmUid.Size;
    private const int EncodedLength = EncodedUid + 4;
    private const byte Preamble = 0xFE;
    private const byte Separator = 0xAA;

    /// <summary>Reads an answer.</summary>
    /// <param name="octets">From the first octet after the request; octets after the answer are let be.</param>
    /// <param name="uid">Who answered.</param>
    /// <returns>False where it is none, cut, or its checksum is wrong (as when several answer at once).</returns>
    public static bool TryParse(ReadOnlySpan<byte> octets, out RdmUid uid)
    {
        uid = default;
        int at = 0;
        while (at < octets.Length && at < MostPreamble && octets[at] == Preamble)
        {
            at++;
        }

        if (octets.Length < at + 1 + EncodedLength || octets[at] != Separator)
        {
            return false;
        }

        ReadOnlySpan<byte> encoded = octets.Slice(at + 1, EncodedLength);
        Span<byte> decoded = stackalloc byte[EncodedLength / 2];
        for (int i = 0; i < decoded.Length; i++)
        {
            decoded[i] = (byte)(encoded[2 * i] & encoded[2 * i + 1]);
        }

        if (((decoded[RdmUid.Size] << 8) | decoded[RdmUid.Size + 1]) != RdmPacket.SumOf(encoded[..EncodedUid]))
        {
            return false;
        }

        uid = RdmUid.Read(decoded);
        return true;
    }
}
