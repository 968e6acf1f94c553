using System.Globalization;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>A value as GDTF writes it, <c>128/1</c> or <c>128/1s</c> (GDTF table 1, DMXValue).</summary>
/// <param name="Value">The number.</param>
/// <param name="Bytes">In how many bytes it is given, 1 to 4.</param>
/// <param name="Shifted">Whether it is brought to more bytes by shifting; otherwise its bytes are repeated.</param>
public readonly record struct DmxValue(long Value, int Bytes, bool Shifted)
{
    /// <summary>Zero of one byte: the default of every value of a chart.</summary>
    public static DmxValue Zero => new(0, 1, false);

    /// <summary>Reads a value. Files give impossible widths (<c>0/255</c>): such a width counts as 1 byte; a number without any, too.</summary>
    /// <param name="text">The text; null is none.</param>
    /// <param name="value">The value.</param>
    /// <returns>False for what is no number, is negative or does not fit its width.</returns>
    public static bool TryParse(string? text, out DmxValue value)
    {
        ReadOnlySpan<char> span = (text ?? "").AsSpan().Trim();
        int stroke = span.IndexOf('/');
        ReadOnlySpan<char> width = stroke >= 0 ? span[(stroke + 1)..].Trim() : "1";
        bool shifted = width.EndsWith("s", StringComparison.OrdinalIgnoreCase);
        width = shifted ? width[..^1] : width;
        value = default;
        if (!long.TryParse(stroke >= 0 ? span[..stroke] : span, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out long number))
        {
            return false;
        }

        int bytes = int.TryParse(width, NumberStyles.None, CultureInfo.InvariantCulture, out int said) && said is >= 1 and <= 4 ? said : 1;
        value = new DmxValue(number, bytes, shifted);
        return number < 1L << (8 * bytes);
    }

    /// <summary>The value in a number of bytes.</summary>
    /// <param name="bytes">1 to 4.</param>
    public long At(int bytes)
    {
        if (bytes <= Bytes)
        {
            return Value >> (8 * (Bytes - bytes));
        }

        if (Shifted)
        {
            return Value << (8 * (bytes - Bytes));
        }

        long wide = 0;
        for (int i = 0; i < bytes; i++)
        {
            wide = (wide << 8) | ((Value >> (8 * (Bytes - 1 - (i % Bytes)))) & 0xFF);
        }

        return wide;
    }

    /// <summary>The last value in a number of bytes that is still this one: the next value starts behind it.</summary>
    /// <param name="bytes">1 to 4.</param>
    public long EndAt(int bytes) => Value + 1 >= 1L << (8 * Bytes)
        ? (1L << (8 * bytes)) - 1
        : Math.Max(At(bytes), (this with { Value = Value + 1 }).At(bytes) - 1);
}
