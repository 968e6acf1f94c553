namespace DmxProbe.Protocols.Sacn;

/// <summary>Text fields that end with a zero octet.</summary>
internal static class SacnText
{
    public static ReadOnlySpan<byte> UpToZero(ReadOnlySpan<byte> field)
    {
        int end = field.IndexOf((byte)0);
        return end < 0 ? field : field[..end];
    }
}
