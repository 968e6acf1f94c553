using DmxProbe.Testing.Files;

namespace DmxProbe.Protocols.Tests;

/// <summary>The packets of the folder Vectors (see its PROVENANCE.md).</summary>
internal static class Vector
{
    public static byte[] Read(string name) => File.ReadAllBytes(
        Path.Combine(Places.Repository, "tests", "DmxProbe.Protocols.Tests", "Vectors", name));

    public static byte[] Hex(string text) => Convert.FromHexString(text.Replace(" ", "", StringComparison.Ordinal));

    /// <summary>The first octets in a buffer of exactly that length: reading past the end fails.</summary>
    public static byte[] Cut(byte[] whole, int length) => whole[..length];

    /// <summary>A copy with one octet replaced.</summary>
    public static byte[] With(byte[] packet, int offset, params byte[] octets)
    {
        byte[] copy = [.. packet];
        octets.CopyTo(copy, offset);
        return copy;
    }
}
