using System.Globalization;

using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Raised slots as text: <c>1.016-020@255 2.101@128</c>, universe by the sheet (or <c>sacn:9</c>, <c>artnet:0</c> where the
/// sheet has none), slots, level; <c>none</c> for a dark stage.
/// </summary>
public static class RaisedText
{
    private const string Nothing = "none";

    /// <summary>Writes them.</summary>
    public static string Write(AskRig rig, IReadOnlyList<RaisedSlot> raised)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(raised);
        return raised.Count == 0 ? Nothing : string.Join(' ', SlotRuns.Of(raised).Select(run => string.Create(
            CultureInfo.InvariantCulture,
            $"{Token(rig, run.Universe)}.{run.From:000}{(run.To > run.From ? string.Create(CultureInfo.InvariantCulture, $"-{run.To:000}") : "")}@{run.Level}")));
    }

    /// <summary>Reads them; null when the text is none.</summary>
    public static IReadOnlyList<RaisedSlot>? Read(AskRig rig, string text)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(text);
        if (text.Trim().Equals(Nothing, StringComparison.OrdinalIgnoreCase))
        {
            return [];
        }

        List<RaisedSlot> raised = [];
        foreach (string part in text.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            int at = part.IndexOf('@', StringComparison.Ordinal);
            int point = part.IndexOf('.', StringComparison.Ordinal);
            if (at < 0 || point < 0 || point > at)
            {
                return null;
            }

            int universe = Enumerable.Range(0, rig.Space.Universes.Count).FirstOrDefault(u => Token(rig, u).Equals(part[..point], StringComparison.OrdinalIgnoreCase), -1);
            string[] ends = part[(point + 1)..at].Split('-');
            if (universe < 0 || ends.Length > 2 || Number(ends[0], 1, SlotHistory.SlotCount) is not int from ||
                Number(ends[^1], from, SlotHistory.SlotCount) is not int to || Number(part[(at + 1)..], 1, byte.MaxValue) is not int level)
            {
                return null;
            }

            raised.AddRange(Enumerable.Range(from, to - from + 1).Select(slot => new RaisedSlot(universe, slot, (byte)level)));
        }

        return raised.Count == 0 ? null : raised;
    }

    private static string Token(AskRig rig, int universe)
    {
        UniverseId id = rig.Space.Universes[universe];
        int sheet = rig.SheetUniverses[universe];
        return sheet >= 0 ? sheet.ToString(CultureInfo.InvariantCulture)
            : string.Create(CultureInfo.InvariantCulture, $"{id.Protocol.ToString().ToLowerInvariant()}:{id.Number}");
    }

    private static int? Number(string text, int least, int most) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value >= least && value <= most ? value : null;
}
