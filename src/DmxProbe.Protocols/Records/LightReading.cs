using System.Buffers.Binary;

namespace DmxProbe.Protocols.Records;

/// <summary>
/// One reading of a light: three 64-bit little-endian numbers, red, green and blue, in the unit of whoever measured;
/// a luminance alone stands in the first with the others not a number. The interface is the region.
/// </summary>
/// <param name="Red">Red, or the luminance.</param>
/// <param name="Green">Green; not a number where only the luminance was measured.</param>
/// <param name="Blue">Blue; not a number where only the luminance was measured.</param>
public readonly record struct LightReading(double Red, double Green, double Blue)
{
    /// <summary>Octets of one reading.</summary>
    public const int Size = 3 * sizeof(double);

    /// <summary>True where the three colours were measured.</summary>
    public bool IsColour => !double.IsNaN(Green) && !double.IsNaN(Blue);

    /// <summary>Reads a record's bytes.</summary>
    /// <param name="data">The bytes.</param>
    /// <param name="reading">The reading.</param>
    /// <returns>False where there are not exactly <see cref="Size"/> octets.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out LightReading reading)
    {
        if (data.Length != Size)
        {
            reading = default;
            return false;
        }

        reading = new LightReading(
            BinaryPrimitives.ReadDoubleLittleEndian(data),
            BinaryPrimitives.ReadDoubleLittleEndian(data[sizeof(double)..]),
            BinaryPrimitives.ReadDoubleLittleEndian(data[(2 * sizeof(double))..]));
        return true;
    }

    /// <summary>Writes the bytes.</summary>
    /// <param name="target">At least <see cref="Size"/> octets.</param>
    public void Write(Span<byte> target)
    {
        BinaryPrimitives.WriteDoubleLittleEndian(target, Red);
        BinaryPrimitives.WriteDoubleLittleEndian(target[sizeof(double)..], Green);
        BinaryPrimitives.WriteDoubleLittleEndian(target[(2 * sizeof(double))..], Blue);
    }
}
