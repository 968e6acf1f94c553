namespace DmxProbe.Protocols.Wire;

/// <summary>A refusal: what, where, expected, found.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="Offset">Octet of the refused bytes at which it is wrong, from 0.</param>
/// <param name="Expected">The value or length expected there.</param>
/// <param name="Found">The value or length found there.</param>
public readonly record struct WireError(WireErrorKind Kind, int Offset, long Expected, long Found)
{
    /// <summary>No error.</summary>
    public static WireError None => default;

    /// <summary>The bytes end too early: <paramref name="needed"/> octets are needed, <paramref name="available"/> are there.</summary>
    public static WireError Truncated(int needed, int available) =>
        new(WireErrorKind.Truncated, available, needed, available);

    /// <summary>The same error seen from bytes that begin <paramref name="octets"/> earlier (an inner layer's refusal, told of the whole).</summary>
    internal WireError From(int octets) => Kind == WireErrorKind.Truncated
        ? new(Kind, Offset + octets, Expected + octets, Found + octets)
        : this with { Offset = Offset + octets };
}
