using System.Globalization;
using System.Text;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Locate;

/// <summary>The small words of an answer.</summary>
internal static class LocateWords
{
    /// <summary>Text of a file made safe to show, cut to 60 characters.</summary>
    public static string Plain(string text)
    {
        StringBuilder shown = new();
        foreach (Rune rune in text.EnumerateRunes())
        {
            if (shown.Length >= 60)
            {
                return shown.Append("...").ToString();
            }

            // C0 and C1 controls, direction and zero-width characters, separators, lone surrogates, private use.
            bool plain = Rune.GetUnicodeCategory(rune) is not (UnicodeCategory.Control or UnicodeCategory.Format or
                UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator or UnicodeCategory.Surrogate or
                UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned);
            _ = plain ? shown.Append(rune.ToString()) : shown.Append(CultureInfo.InvariantCulture, $"\\u{rune.Value:X4}");
        }

        return shown.ToString();
    }

    /// <summary>An address as the trade prints it: <c>1.061</c>.</summary>
    public static string Address(int universe, int address) => string.Create(CultureInfo.InvariantCulture, $"{universe}.{address:000}");

    /// <summary>Where a candidate reads: by the sheet's numbering where it has one, else by the wire's.</summary>
    public static string Place(LocateCandidate candidate, LocateCase about)
    {
        int universe = about.SheetUniverses[candidate.Hypothesis.History];
        return universe >= 0
            ? Address(universe, candidate.Hypothesis.Address)
            : string.Create(CultureInfo.InvariantCulture, $"{candidate.Universe.Label} slot {candidate.Hypothesis.Address:000}");
    }

    /// <summary>The place, and the mode where it is not the sheet's.</summary>
    public static string PlaceAndMode(LocateCandidate candidate, LocateCase about) =>
        Place(candidate, about) + (candidate.Mode == about.Unit.Mode ? "" : " in mode " + Plain(candidate.Mode));

    /// <summary>Several things in a row: <c>a, b or c</c>.</summary>
    public static string Either(IReadOnlyList<string> parts) => parts.Count switch
    {
        0 => "",
        1 => parts[0],
        _ => string.Join(", ", parts.Take(parts.Count - 1)) + " or " + parts[^1],
    };

    /// <summary>How an address is set: the figure of a menu and the switches.</summary>
    public static string Setting(int address)
    {
        string switches = DipSwitches.Text(address);
        string menu = address.ToString("000", CultureInfo.InvariantCulture);
        return switches.Length == 0 ? menu + " (menu " + menu + "; nine switches cannot show it)" : menu + " (menu " + menu + "; switches " + switches + ")";
    }

    /// <summary>How strongly the light speaks for something: <c>about 20 to 1</c>.</summary>
    /// <param name="nats">Difference of log-likelihoods.</param>
    public static string Odds(double nats)
    {
        const double most = 1e6;
        double odds = Math.Exp(Math.Min(Math.Abs(nats), 50));
        string text = odds >= most ? "more than a million to one" : string.Create(CultureInfo.InvariantCulture, $"about {odds:#,0} to one");
        return nats < 0 && odds >= 1.5 ? text + " against" : text;
    }

    /// <summary>A look in words.</summary>
    public static string Look(SplittingLook look, LocateCase about)
    {
        int history = about.Question.Histories.ToList().FindIndex(candidate => candidate.Universe == look.Universe);
        int universe = history >= 0 ? about.SheetUniverses[history] : -1;
        PatchUnit? raised = about.Sheet.Find(look.Unit);
        ChartMode? mode = raised is null ? null : about.Charts.Find(raised.Type, raised.Mode);
        string slots = string.Join(", ", look.Raise.Select(slot =>
        {
            string place = universe >= 0 ? Address(universe, slot.Slot) : look.Universe.Label + " slot " + slot.Slot.ToString(CultureInfo.InvariantCulture);
            string function = raised is null ? "" : mode?.Find(slot.Slot - raised.Address + 1)?.Function ?? "";
            return function.Length > 0 ? Plain(function) + " " + place : place;
        }));
        return "from a dark stage raise only " + Plain(look.Unit) + " to full (its " + slots + ")";
    }
}
