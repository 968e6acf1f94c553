using System.Text;

namespace DmxProbe.Fixtures.Tables;

/// <summary>
/// Decides the encoding of a text file. A byte order mark is believed. Without one: zero bytes in every second place
/// are UTF-16, valid UTF-8 is UTF-8 (text of another encoding that holds accented letters practically never is), the
/// rest is Windows-1252, which spreadsheets of western Europe write and which gives every byte a character.
/// </summary>
internal static class TextDecoding
{
    /// <summary>Largest text file, in octets; more is no chart and no sheet.</summary>
    public const int MaxOctets = 64 * 1024 * 1024;

    private const int Windows1252 = 1252;
    private const int Sample = 4096;

    /// <summary>The text, without its mark, and the name of the encoding with the reason.</summary>
    public static (string Text, string Encoding) Decode(ReadOnlySpan<byte> octets)
    {
        if (octets.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
        {
            return (Encoding.UTF8.GetString(octets[3..]), "UTF-8 (byte order mark)");
        }

        if (octets.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]))
        {
            return (Encoding.Unicode.GetString(octets[2..]), "UTF-16 (byte order mark)");
        }

        if (octets.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
        {
            return (Encoding.BigEndianUnicode.GetString(octets[2..]), "UTF-16, high byte first (byte order mark)");
        }

        (int even, int odd, int pairs) = Zeros(octets[..Math.Min(octets.Length, Sample)]);
        if (pairs > 1 && odd * 10 > pairs * 7 && even * 10 < pairs)
        {
            return (Encoding.Unicode.GetString(octets), "UTF-16 (every second byte is 0)");
        }

        if (pairs > 1 && even * 10 > pairs * 7 && odd * 10 < pairs)
        {
            return (Encoding.BigEndianUnicode.GetString(octets), "UTF-16, high byte first (every second byte is 0)");
        }

        try
        {
            string text = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(octets);
            return (text, octets.IndexOfAnyExceptInRange((byte)0, (byte)0x7F) < 0 ? "plain ASCII" : "UTF-8 (valid throughout)");
        }
        catch (DecoderFallbackException)
        {
            return (CodePagesEncodingProvider.Instance.GetEncoding(Windows1252)!.GetString(octets), "Windows-1252 (not valid UTF-8)");
        }
    }

    private static (int Even, int Odd, int Pairs) Zeros(ReadOnlySpan<byte> octets)
    {
        int even = 0, odd = 0, pairs = octets.Length / 2;
        for (int i = 0; i < pairs; i++)
        {
            even += octets[2 * i] == 0 ? 1 : 0;
            odd += octets[(2 * i) + 1] == 0 ? 1 : 0;
        }

        return (even, odd, pairs);
    }
}
