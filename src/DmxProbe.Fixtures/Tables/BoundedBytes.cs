namespace DmxProbe.Fixtures.Tables;

/// <summary>Reads a stream up to a bound, so that no input can fill the memory.</summary>
internal static class BoundedBytes
{
    /// <summary>All octets of a stream; null when there are more than <paramref name="max"/>.</summary>
    /// <exception cref="IOException">The stream itself fails.</exception>
    public static byte[]? Read(Stream stream, int max)
    {
        using MemoryStream kept = new();
        byte[] block = new byte[64 * 1024];
        for (int count; (count = stream.Read(block, 0, block.Length)) > 0;)
        {
            if (kept.Length + count > max)
            {
                return null;
            }

            kept.Write(block, 0, count);
        }

        return kept.ToArray();
    }
}
