using System.Globalization;
using System.Xml;

namespace DmxProbe.Fixtures.Tables.Xlsx;

/// <summary>How numbers are shown: what matters is decimals (1.1 shown as 1.100 is an address) and dates.</summary>
internal sealed class XlsxFormats
{
    private const int MaxStyles = 65_536;

    // Built-in format numbers (ECMA-376 part 1, 18.8.30, from memory): 2 and 4 show two decimals, 14 to 22 and 45 to 47 are dates and times.
    private const int TwoDecimals = 2, TwoDecimalsGrouped = 4;
    private readonly List<int> _ofStyle = [];
    private readonly Dictionary<int, string> _codes = [];

    private XlsxFormats()
    {
    }

    /// <summary>Reads the part; without one every number is shown as it is.</summary>
    public static XlsxFormats Read(BoundedZip zip, string part)
    {
        XlsxFormats formats = new();
        using XmlReader? xml = zip.Xml(part);
        bool inCells = false;
        while (xml?.Read() == true)
        {
            if (xml.LocalName == "cellXfs")
            {
                inCells = xml.NodeType == XmlNodeType.Element && !xml.IsEmptyElement;
            }
            else if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }
            else if (xml.LocalName == "numFmt" && Number(xml.GetAttribute("numFmtId")) is int id && formats._codes.Count < MaxStyles)
            {
                formats._codes[id] = xml.GetAttribute("formatCode") ?? "";
            }
            else if (xml.LocalName == "xf" && inCells && formats._ofStyle.Count < MaxStyles)
            {
                formats._ofStyle.Add(Number(xml.GetAttribute("numFmtId")) ?? 0);
            }
        }

        return formats;
    }

    /// <summary>Whether a style shows a number as a date or a time.</summary>
    public bool IsDate(int style)
    {
        int format = Of(style);
        return _codes.TryGetValue(format, out string? code)
            ? Plain(code).Any(c => char.ToLowerInvariant(c) is 'd' or 'm' or 'y' or 'h' or 's')
            : format is (>= 14 and <= 22) or (>= 45 and <= 47);
    }

    /// <summary>A number as the style shows it, as far as decimals and leading zeros go.</summary>
    public string Show(double value, int style)
    {
        string code = _codes.TryGetValue(Of(style), out string? own) ? Plain(own).Split(';')[0] : Of(style) is TwoDecimals or TwoDecimalsGrouped ? "0.00" : "";
        int dot = code.IndexOf('.', StringComparison.Ordinal);
        int decimals = dot < 0 ? 0 : code[(dot + 1)..].TakeWhile(c => c == '0').Count();
        int digits = code.Length > 0 && code.All(c => c is '0' or '.') ? (dot < 0 ? code.Length : dot) : 1;
        string shown = value.ToString("0.############", CultureInfo.InvariantCulture);
        if (decimals > 0 && shown.Length - (shown.IndexOf('.', StringComparison.Ordinal) is int at and >= 0 ? at + 1 : shown.Length) < decimals)
        {
            shown = value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        }

        return digits > 1 && value >= 0 && value == Math.Floor(value) && decimals == 0
            ? shown.PadLeft(Math.Min(digits, 9), '0')
            : shown;
    }

    private static int? Number(string? text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : null;

    /// <summary>A format code without its quoted texts, colours and conditions.</summary>
    private static string Plain(string code)
    {
        System.Text.StringBuilder plain = new();
        bool quoted = false, bracket = false, escaped = false;
        foreach (char c in code)
        {
            if (escaped)
            {
                escaped = false;
            }
            else if (!quoted && c == '\\')
            {
                escaped = true;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (!quoted && c is '[' or ']')
            {
                bracket = c == '[';
            }
            else if (!quoted && !bracket)
            {
                plain.Append(c);
            }
        }

        return plain.ToString().Equals("General", StringComparison.OrdinalIgnoreCase) ? "" : plain.ToString();
    }

    private int Of(int style) => style >= 0 && style < _ofStyle.Count ? _ofStyle[style] : 0;
}
