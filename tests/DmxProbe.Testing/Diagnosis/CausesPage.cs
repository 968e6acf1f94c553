using System.Globalization;
using System.Text;
using DmxProbe.Analysis.Diagnosis;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>docs/causes.md, made from the classes of the causes.</summary>
public static class CausesPage
{
    /// <summary>Where the part that is written by hand (the evaluation) begins.</summary>
    public const string HandWritten = "## How well it does\n";

    /// <summary>The part of the page that the classes give.</summary>
    public static string Generated()
    {
        StringBuilder page = new();
        int decided = AllCauses.List.Count(cause => cause is not PersonCause);
        page.Append(string.Create(CultureInfo.InvariantCulture, $"""
            # Causes

            What `diagnose` holds a case against: {AllCauses.List.Count} causes, {decided} of which captures, sheet and light decide; the other {AllCauses.List.Count - decided} are questions to a person. ("Somebody to look would tell" in an answer counts these, and those of the {decided} which that capture neither showed nor excluded and a look would.)
            This page is made from the classes in src/DmxProbe.Analysis/Diagnosis/Causes; a test fails when it is stale (DMXPROBE_UPDATE_GOLDEN=1 writes it anew).

            - **needs**: what must be at hand to judge it; "or" parts sets of which one is enough. Network = Art-Net or sACN as captured; line = edges of a DMX512 line; serial = a serial interface on it; sheet = patch sheet with charts; bad = which units are bad; light = what the light did (`--trace`); levels = a network capture, or a line that `--map` says is a universe of the sheet; RDM = RDM replies in any input; two taps = two files of one moment, the sender's side first.
            - **test**: what shows it, with its threshold and where that is from. "Common practice" has no published source.
            - **not seen**: whether not seeing it excludes it. Where it does not, `diagnose` lists it among what cannot be excluded.
            - How often a cause is met (often, now and then, rarely) is a guess of practitioners; it only orders causes that the evidence leaves equal.
            - **what was said** (`--said`): words that something can hurt (a burnt smell, smoke, fire, sparks, a shock, tingling, water, a hot plug, a torn cable, a fuse that blows again; loose, falling, a broken clamp) are answered before everything else: stop, switch off at the supply, keep people away, a licensed person, local codes. No check then raises or moves anything. The trade's own words ("smoke machine", "fire the cue", "hot spot", "hot key") are no alarm; where it is not plain, it is taken for danger.

            """).ReplaceLineEndings("\n"));
        foreach (IGrouping<CauseGroup, Cause> group in AllCauses.List.GroupBy(cause => cause.Card.Group).OrderBy(group => group.Key))
        {
            page.Append('\n').Append("## ").Append(Title(group.Key)).Append('\n');
            foreach (Cause cause in group.OrderBy(cause => cause is PersonCause))
            {
                One(page, cause);
            }
        }

        page.Append('\n').Append("## What the same inputs cannot tell apart\n");
        page.Append("Fixed before the evaluation: naming one of a class is as right as naming another.\n\n| with | causes | why |\n|---|---|---|\n");
        foreach (CauseClass same in CauseClass.All)
        {
            page.Append(CultureInfo.InvariantCulture, $"| {same.With} | {string.Join(", ", same.Causes.Select(id => $"`{id}`"))} | {same.Why} |\n");
        }

        return page.Append('\n').ToString();
    }

    private static void One(StringBuilder page, Cause cause)
    {
        CauseCard card = cause.Card;
        page.Append(CultureInfo.InvariantCulture, $"\n### {card.Id}\n{char.ToUpperInvariant(card.Name[0])}{card.Name[1..]}. Met {Often(card.Frequency)}.\n");
        page.Append(CultureInfo.InvariantCulture, $"- needs: {(cause is PersonCause ? "somebody to look" : string.Join(", or ", card.Needs.Select(Words)))}\n");
        page.Append(CultureInfo.InvariantCulture, $"- {(cause is PersonCause ? "sign" : "test")}: {card.Test}\n");
        if (cause is not PersonCause)
        {
            page.Append(CultureInfo.InvariantCulture, $"- not seen: {(card.NotSeen.Length > 0 || cause is LocateCause or ConditionCause or RdmSheetCause ? "excludes it" : "proves nothing")}\n");
        }

        if (card.Explains.Count > 0)
        {
            page.Append(CultureInfo.InvariantCulture, $"- brings about: {string.Join(", ", card.Explains.Select(id => $"`{id}`"))}\n");
        }

        page.Append(CultureInfo.InvariantCulture, $"- do: {card.Fix}\n- check (about {card.Check.Seconds} s{(card.Check.Ladder ? ", with a ladder" : "")}): {card.Check.Text}\n");
        foreach (string caution in card.Cautions)
        {
            page.Append(CultureInfo.InvariantCulture, $"- mind: {caution}\n");
        }
    }

    private static string Words(CauseInputs inputs) => string.Join(" + ", Enum.GetValues<CauseInputs>().Where(each => each != CauseInputs.None && inputs.HasFlag(each)).Select(each => each switch
    {
        CauseInputs.BadUnits => "bad",
        CauseInputs.TwoTaps => "two taps",
        CauseInputs.Rdm => "RDM",
        _ => each.ToString().ToLowerInvariant(),
    }));

    private static string Often(CauseFrequency frequency) => frequency switch
    {
        CauseFrequency.Common => "often",
        CauseFrequency.Rare => "rarely",
        _ => "now and then",
    };

    private static string Title(CauseGroup group) => group switch
    {
        CauseGroup.Addressing => "Address and sheet",
        CauseGroup.Mode => "Mode and chart",
        CauseGroup.UnitState => "What the unit is told, or does by itself",
        CauseGroup.Cable => "Cable and connectors",
        CauseGroup.LineTiming => "Signal of the line",
        CauseGroup.Network => "Network and senders",
        CauseGroup.Link => "Between two places",
        CauseGroup.Wireless => "Radio",
        CauseGroup.Power => "Power",
        _ => "The capture itself",
    };
}
