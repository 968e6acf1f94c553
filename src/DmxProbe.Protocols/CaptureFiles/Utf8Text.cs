using System.Text;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>UTF-8 text of capture files, kept within bounds.</summary>
internal static class Utf8Text
{
    /// <summary>Longest prefix of at most <paramref name="most"/> octets that does not end inside a character.</summary>
    public static int CutLength(ReadOnlySpan<byte> text, int most)
    {
        if (text.Length <= most)
        {
            return text.Length;
        }

        int length = most;
        // A character is at most 4 octets, 3 of them continuations (10xxxxxx); longer runs are not UTF-8 anyway.
        for (int back = 0; back < 3 && length > 0 && (text[length] & 0xC0) == 0x80; back++)
        {
            length--;
        }

        return length;
    }

    /// <summary>The text, at most <paramref name="most"/> octets of it; what is not UTF-8 becomes U+FFFD.</summary>
    public static string Decode(ReadOnlySpan<byte> text, int most) =>
        Encoding.UTF8.GetString(text[..CutLength(text, most)]);
}
