using System.Text.RegularExpressions;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>Takes a mode off the end of a type: <c>Wash 10 (16ch)</c>, <c>Spot, mode 2</c>, <c>Par 7 channel</c>.</summary>
internal static partial class TypeAndMode
{
    /// <summary>The type and the mode written behind it; the mode is empty when there is none.</summary>
    public static (string Type, string Mode) Split(string text)
    {
        Match match = Behind().Match(text.Length > 200 ? "" : text);
        return match.Success ? (match.Groups["type"].Value.TrimEnd(' ', ',', '-', ';', ':'), match.Groups["mode"].Value.Trim()) : (text, "");
    }

    [GeneratedRegex(@"^(?<type>[^([]*[^\s,;:([-])(?:\s*[([]\s*|\s*[,;:]\s*|\s+-\s+|\s+)(?<mode>(?:mode\s+)?[0-9]{1,3}\s*-?\s*(?:ch|chan|channels?|slots?|dmx|kanal)\b[^)\]]*|mode\s+[^)\]]+)\s*[)\]]?$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Behind();
}
