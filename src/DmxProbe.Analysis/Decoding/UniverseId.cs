using System.Globalization;

namespace DmxProbe.Analysis.Decoding;

/// <summary>A universe on the wire: protocol and number, never a bare number.</summary>
/// <param name="Protocol">How it is carried.</param>
/// <param name="Number">sACN universe, Art-Net Port-Address (15 bit, from 0), or the number of a line or port from 0.</param>
public readonly record struct UniverseId(UniverseProtocol Protocol, int Number) : IComparable<UniverseId>
{
    /// <summary>
    /// The label in the words of its standard: <c>sACN 1</c>, <c>Art-Net 1:2:3 = Port-Address 291</c>, <c>line A</c>.
    /// </summary>
    public string Label => Protocol switch
    {
        UniverseProtocol.Sacn => string.Create(CultureInfo.InvariantCulture, $"sACN {Number}"),
        UniverseProtocol.ArtNet => string.Create(
            CultureInfo.InvariantCulture,
            $"Art-Net {Number >> 8}:{(Number >> 4) & 0xF}:{Number & 0xF} = Port-Address {Number}"),
        UniverseProtocol.Line => "line " + Letter(Number),
        _ => "serial " + Letter(Number),
    };

    /// <inheritdoc/>
    public int CompareTo(UniverseId other) =>
        Protocol != other.Protocol ? Protocol.CompareTo(other.Protocol) : Number.CompareTo(other.Number);

    /// <summary>Orders by protocol, then by number.</summary>
    public static bool operator <(UniverseId left, UniverseId right) => left.CompareTo(right) < 0;

    /// <summary>Orders by protocol, then by number.</summary>
    public static bool operator >(UniverseId left, UniverseId right) => left.CompareTo(right) > 0;

    /// <summary>Orders by protocol, then by number.</summary>
    public static bool operator <=(UniverseId left, UniverseId right) => left.CompareTo(right) <= 0;

    /// <summary>Orders by protocol, then by number.</summary>
    public static bool operator >=(UniverseId left, UniverseId right) => left.CompareTo(right) >= 0;

    /// <inheritdoc/>
    public override string ToString() => Label;

    private static string Letter(int number) =>
        number is >= 0 and < 26 ? ((char)('A' + number)).ToString() : number.ToString(CultureInfo.InvariantCulture);
}
