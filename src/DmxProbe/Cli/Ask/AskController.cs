using System.Globalization;

using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;

namespace DmxProbe.Cli.Ask;

/// <summary>What the person has at hand: <c>ranges</c>, <c>faders:N</c> or <c>looks</c>.</summary>
/// <param name="Word">The word.</param>
/// <param name="Faders">Faders of a page; 0 where it has none.</param>
internal sealed record AskController(string Word, int Faders)
{
    private const int LooksBesideRanges = 40;

    /// <summary>Reads it as it is given.</summary>
    /// <exception cref="UsageException">It is none.</exception>
    public static AskController Parse(string? text)
    {
        if (text is "ranges" or "looks")
        {
            return new AskController(text, 0);
        }

        if (text is not null && text.StartsWith("faders:", StringComparison.Ordinal) &&
            int.TryParse(text["faders:".Length..], NumberStyles.None, CultureInfo.InvariantCulture, out int faders) && faders is >= 1 and <= SlotHistory.SlotCount)
        {
            return new AskController("faders", faders);
        }

        throw new UsageException(text is null
            ? "--ask needs to know what you have at hand: --controller ranges (it can raise ranges of slots), --controller faders:8 (pages of 8 faders) or --controller looks (only looks that exist)"
            : $"--controller: expected ranges, faders:N with N from 1 to 512, or looks, found '{text}'");
    }

    /// <summary>The planner for it.</summary>
    /// <exception cref="UsageException">The capture holds no look that may be asked for.</exception>
    public IAskPlanner Planner(LocateGathered gathered, AskSafety safety)
    {
        if (Faders > 0)
        {
            return new FaderPlanner(gathered.Rig, Faders);
        }

        ExistingLookPlanner planner = new(gathered.Rig, gathered.Histories, safety, Word == "looks" ? ExistingLookPlanner.MostLooks : LooksBesideRanges);
        return Word != "looks" ? new RangesAndLooks(gathered.Rig, new RangePlanner(gathered.Rig), planner) : planner.Looks > 0 ? planner : throw new UsageException(
            "no look of this capture may be asked for: none stood still with everything but intensity and colour as it is held at the end; use --controller ranges or faders:N, or note what the light does with --notes");
    }
}
