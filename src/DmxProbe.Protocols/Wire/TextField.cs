namespace DmxProbe.Protocols.Wire;

/// <summary>Text fields of fixed length that a zero octet may end early.</summary>
internal static class TextField
{
    public static ReadOnlySpan<byte> UpToZero(ReadOnlySpan<byte> field)
    {
        int end = field.IndexOf((byte)0);
        return end < 0 ? field : field[..end];
    }
}
