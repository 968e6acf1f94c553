using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Line;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Cells of a CSV line and what they may hold.</summary>
internal static class CsvText
{
    /// <summary>The most cells of a line that are looked at.</summary>
    public const int MostCells = 256;

    /// <summary>Sets the cells of a line apart.</summary>
    /// <returns>How many; at most <see cref="MostCells"/>.</returns>
    public static int Split(ReadOnlySpan<byte> line, byte separator, Span<Range> cells)
    {
        int count = 0;
        int start = 0;
        while (count < cells.Length)
        {
            int length = separator == 0 ? -1 : line[start..].IndexOf(separator);
            int end = length < 0 ? line.Length : start + length;
            cells[count++] = start..end;
            if (length < 0)
            {
                break;
            }

            start = end + 1;
        }

        return count;
    }

    /// <summary>A cell without the spaces and quotes around it.</summary>
    public static ReadOnlySpan<byte> Bare(ReadOnlySpan<byte> cell) => cell.Trim(" \t\r\""u8);

    /// <summary>Whether a line is a remark.</summary>
    public static bool IsRemark(ReadOnlySpan<byte> line) =>
        line.StartsWith(";"u8) || line.StartsWith("#"u8) || line.StartsWith("//"u8) || line.StartsWith("%"u8);

    /// <summary>A number with point or comma, spaces between thousands, exponent.</summary>
    public static bool TryNumber(ReadOnlySpan<byte> cell, bool decimalComma, out decimal number)
    {
        number = 0;
        cell = Bare(cell);
        Span<byte> plain = stackalloc byte[48];
        if (cell.IsEmpty || cell.Length > plain.Length)
        {
            return false;
        }

        int length = 0;
        for (int i = 0; i < cell.Length; i++)
        {
            byte octet = cell[i];
            bool isSpace = octet == ' ' && length > 0 && plain[length - 1] is >= (byte)'0' and <= (byte)'9';
            if (isSpace || (octet == 0xC2 && i + 1 < cell.Length && cell[i + 1] == 0xA0))
            {
                i += octet == ' ' ? 0 : 1;
                continue;
            }

            plain[length++] = decimalComma && octet == ',' ? (byte)'.' : octet;
        }

        return decimal.TryParse(plain[..length], NumberStyles.Float, CultureInfo.InvariantCulture, out number);
    }

    /// <summary>A level written as a digit or a word; null for none.</summary>
    public static LineLevel? Level(ReadOnlySpan<byte> cell)
    {
        cell = Bare(cell);
        return cell switch
        {
            [(byte)'0'] => LineLevel.Low,
            [(byte)'1'] => LineLevel.High,
            [(byte)'x' or (byte)'X' or (byte)'z' or (byte)'Z'] => LineLevel.Unknown,
            _ => cell.Length > 5 ? null : Encoding.ASCII.GetString(cell).ToUpperInvariant() switch
            {
                "L" or "LOW" or "FALSE" => LineLevel.Low,
                "H" or "HIGH" or "TRUE" => LineLevel.High,
                _ => null,
            },
        };
    }

    /// <summary>Text of a cell.</summary>
    public static string Text(ReadOnlySpan<byte> cell) => Encoding.UTF8.GetString(Bare(cell[..Math.Min(cell.Length, 255)]));

    /// <summary>Seconds of a time unit named in a heading (<c>Time (ms)</c>, <c>t[us]</c>, <c>time_ns</c>), or null.</summary>
    public static decimal? UnitOf(string heading)
    {
        string[] words = heading.Split([' ', '(', ')', '[', ']', '_', '/', ',', ':', '-'], StringSplitOptions.RemoveEmptyEntries);
        foreach (string word in words.Reverse())
        {
            decimal? unit = word.ToUpperInvariant() switch
            {
                "S" or "SEC" or "SECOND" or "SECONDS" => 1,
                "MS" => 1e-3m,
                "US" or "\u00B5S" or "\u039CS" or "\u03BCS" => 1e-6m,
                "NS" => 1e-9m,
                "PS" => 1e-12m,
                _ => null,
            };
            if (unit is not null)
            {
                return unit;
            }
        }

        return null;
    }
}
