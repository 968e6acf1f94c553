namespace DmxProbe.Protocols.Tests;

/// <summary>Compares spans with a message that shows both.</summary>
internal static class Octets
{
    public static void Equal(ReadOnlySpan<byte> expected, ReadOnlySpan<byte> actual) =>
        Assert.Equal(expected.ToArray(), actual.ToArray());
}
