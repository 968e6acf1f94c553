using System.Globalization;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>The words for what is seen: in notes, in answers, and printed.</summary>
public static class SeenWords
{
    /// <summary>The words that are understood, for a sentence.</summary>
    public const string Known = "dark, lit, red, amber, green, cyan, blue, magenta, white, flashing, moving, unsure, tap, tap start, tap end, or rdm and a start address (rdm 16, rdm 16 footprint 10, rdm 16 personality 2)";

    private static readonly Dictionary<string, Seen> Single = new(StringComparer.OrdinalIgnoreCase)
    {
        ["dark"] = Seen.Dark,
        ["off"] = Seen.Dark,
        ["lit"] = Seen.Lit,
        ["on"] = Seen.Lit,
        ["l"] = Seen.Lit,
        ["d"] = Seen.Dark,
        ["u"] = Seen.Unsure,
        ["unsure"] = Seen.Unsure,
        ["flashing"] = new(SeenKind.Flashing),
        ["moving"] = new(SeenKind.Moving),
        ["tap"] = new(SeenKind.Tap),
        ["red"] = Coloured(SeenColour.Red),
        ["amber"] = Coloured(SeenColour.Amber),
        ["orange"] = Coloured(SeenColour.Amber),
        ["yellow"] = Coloured(SeenColour.Amber),
        ["green"] = Coloured(SeenColour.Green),
        ["cyan"] = Coloured(SeenColour.Cyan),
        ["blue"] = Coloured(SeenColour.Blue),
        ["magenta"] = Coloured(SeenColour.Magenta),
        ["pink"] = Coloured(SeenColour.Magenta),
        ["violet"] = Coloured(SeenColour.Magenta),
        ["white"] = Coloured(SeenColour.White),
    };

    private static readonly Dictionary<string, Seen> Double = new(StringComparer.OrdinalIgnoreCase)
    {
        ["tap start"] = new(SeenKind.TapStart),
        ["tap end"] = new(SeenKind.TapEnd),
        ["as found"] = new(SeenKind.Log),
        ["as left"] = new(SeenKind.Log),
        [Walk.WalkNote.WorkedOn] = new(SeenKind.Log),
        [Walk.WalkNote.AllRight] = new(SeenKind.Log),
        [Walk.WalkNote.NotRight] = new(SeenKind.Log),
    };

    /// <summary>Reads the words; null where they are none of <see cref="Known"/>.</summary>
    public static Seen? Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string[] words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return words.Length == 0 || words.Length > 6 ? null
            : words[0].Equals("rdm", StringComparison.OrdinalIgnoreCase) ? Rdm(words)
            : words.Length == 1 ? Single.GetValueOrDefault(words[0])
            : words.Length == 2 && Double.GetValueOrDefault(words[0] + " " + words[1]) is Seen pair ? pair
            : words.Length == 2 && words[0].Equals("lit", StringComparison.OrdinalIgnoreCase) && Single.GetValueOrDefault(words[1]) is { Colour: not null } colour ? colour
            : null;
    }

    /// <summary>The words of something seen; <see cref="Read"/> reads them back.</summary>
    internal static string Text(Seen seen)
    {
        if (seen.Report is RdmReport report)
        {
            string text = string.Create(CultureInfo.InvariantCulture, $"rdm {report.Address}");
            text += report.Footprint > 0 ? string.Create(CultureInfo.InvariantCulture, $" footprint {report.Footprint}") : "";
            return text + (report.Personality > 0 ? string.Create(CultureInfo.InvariantCulture, $" personality {report.Personality}") : "");
        }

        return seen.Kind switch
        {
            SeenKind.TapStart => "tap start",
            SeenKind.TapEnd => "tap end",
            SeenKind.Log => "as found",
            _ => (seen.Colour?.ToString() ?? seen.Kind.ToString()).ToLowerInvariant(),
        };
    }

    private static Seen Coloured(SeenColour colour) => new(SeenKind.Lit, colour);

    private static Seen? Rdm(string[] words)
    {
        if (words.Length < 2 || words.Length % 2 != 0 || Number(words[1], SlotHistory.SlotCount) is not int address)
        {
            return null;
        }

        RdmReport report = new(address);
        for (int i = 2; i < words.Length; i += 2)
        {
            if (Number(words[i + 1], SlotHistory.SlotCount) is not int value)
            {
                return null;
            }

            switch (words[i].ToUpperInvariant())
            {
                case "FOOTPRINT":
                    report = report with { Footprint = value };
                    break;
                case "PERSONALITY" when value <= byte.MaxValue:
                    report = report with { Personality = value };
                    break;
                default:
                    return null;
            }
        }

        return new Seen(SeenKind.Rdm, null, report);
    }

    private static int? Number(string text, int most) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value >= 1 && value <= most ? value : null;
}
