using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One question to a recording, and its answer.</summary>
internal sealed record ReviewRun
{
    private const int LastSlot = 512;

    /// <summary>The recording.</summary>
    public required ReviewIndex Index { get; init; }

    /// <summary>Start of the recording.</summary>
    public required Timestamp First { get; init; }

    /// <summary>End of the recording.</summary>
    public required Timestamp Last { get; init; }

    /// <summary>The universe asked about; null: what there is.</summary>
    public UniverseId? Universe { get; init; }

    /// <summary>The slot asked about, from 1; null: all.</summary>
    public int? Slot { get; init; }

    /// <summary>The unit asked about, by the sheet's name; null: none.</summary>
    public string? Unit { get; init; }

    /// <summary>The moment asked about; null: a span, or what there is.</summary>
    public Timestamp? At { get; init; }

    /// <summary>Start of the span asked about.</summary>
    public Timestamp? From { get; init; }

    /// <summary>End of the span asked about.</summary>
    public Timestamp? To { get; init; }

    /// <summary>All slots at the moment, an entry a sender.</summary>
    public IReadOnlyList<ReviewLevels> Levels { get; init; } = [];

    /// <summary>The slot at the moment or over the span, an entry a sender.</summary>
    public IReadOnlyList<SlotSeries> History { get; init; } = [];

    /// <summary>Whether somebody sent what was asked about, or nothing in particular was asked.</summary>
    public bool IsAnswered => Universe is null || Levels.Count + History.Count > 0;

    /// <summary>1 where nobody sent the universe then, or the recording was not read to its end.</summary>
    public int ExitCode => !IsAnswered || Index.Problems.Count > 0 ? Cli.ExitCode.FaultsFound : Cli.ExitCode.Clean;

    /// <summary>Asks.</summary>
    /// <param name="index">The recording.</param>
    /// <param name="name">Its name.</param>
    /// <param name="universe">The universe as given; null: none.</param>
    /// <param name="slot">The slot as given; null: none.</param>
    /// <param name="unit">The unit as given; null: none.</param>
    /// <param name="sheet">Whose slots are where.</param>
    /// <param name="at">The moment as given; null: none.</param>
    /// <param name="from">Start of the span as given; null: that of the recording.</param>
    /// <param name="to">End of the span as given; null: that of the recording.</param>
    /// <exception cref="UsageException">What was given does not go together, or is not in the recording.</exception>
    public static ReviewRun Of(ReviewIndex index, string name, string? universe, int? slot, string? unit, ReviewSheet sheet, AskedTime? at, AskedTime? from, AskedTime? to)
    {
        if (index.First is not Timestamp first || index.Last is not Timestamp last)
        {
            throw new UsageException(index.Problems is [InputProblem cut, ..] ? cut.ToString() : $"{name}: no levels were recorded, so there is nothing to look up; survey says what is in it");
        }

        ReviewRun run = new() { Index = index, First = first, Last = last };
        if (unit is not null)
        {
            return OfUnit(run, universe, slot, sheet, sheet.Find(unit), at, from, to);
        }

        if (universe is null)
        {
            return slot is null && at is null && from is null && to is null
                ? run
                : throw new UsageException("a slot or a time is looked up in a universe; say which with --universe (without any of them the universes are listed)");
        }

        run = run with { Universe = WireUniverse.Find(universe, [.. index.Streams.Select(stream => stream.Universe).Distinct()], "--universe"), Slot = slot };
        if (at is not null)
        {
            Timestamp moment = Inside(at, "--at", first, last);
            run = run with { At = moment };
            return slot is int one
                ? run with { History = index.SlotAt(run.Universe!.Value, one, moment) }
                : run with { Levels = index.LevelsAt(run.Universe!.Value, moment) };
        }

        if (slot is not int asked)
        {
            throw new UsageException("expected --at TIME for all slots of a universe at a moment, or --slot N for the history of a slot; found neither");
        }

        Timestamp start = from is null ? first : Inside(from, "--from", first, last);
        Timestamp end = to is null ? last : Inside(to, "--to", first, last);
        return run.Over(start, end, from, to, [asked]);
    }

    private static ReviewRun OfUnit(
        ReviewRun run, string? universe, int? slot, ReviewSheet sheet, (PatchUnit Unit, UniverseId Universe) found, AskedTime? at, AskedTime? from, AskedTime? to)
    {
        if (universe is not null || slot is not null)
        {
            throw new UsageException("--unit stands instead of --universe and --slot; give the one or the other");
        }

        run = run with { Unit = found.Unit.Unit, Universe = found.Universe };
        if (at is not null)
        {
            Timestamp moment = Inside(at, "--at", run.First, run.Last);
            return run with { At = moment, Levels = run.Index.LevelsAt(found.Universe, moment) };
        }

        Timestamp start = from is null ? run.First : Inside(from, "--from", run.First, run.Last);
        Timestamp end = to is null ? run.Last : Inside(to, "--to", run.First, run.Last);
        int slots = sheet.UnitsOf(found.Universe).First(each => each.Unit.Unit == found.Unit.Unit).Slots;
        return run.Over(start, end, from, to, Enumerable.Range(found.Unit.Address, Math.Min(slots, LastSlot - found.Unit.Address + 1)));
    }

    private ReviewRun Over(Timestamp start, Timestamp end, AskedTime? from, AskedTime? to, IEnumerable<int> slots)
    {
        if (start > end)
        {
            WallClock clock = new((from ?? to)!.Zone, First, Last);
            throw new UsageException($"--from {clock.Time(start)} is later than --to {clock.Time(end)}; exchange them");
        }

        return this with { From = start, To = end, History = [.. slots.SelectMany(slot => Index.History(Universe!.Value, slot, start, end))] };
    }

    // What a screen shows is cut to a millisecond: the first and the last moment as they were read off are inside.
    internal static Timestamp Inside(AskedTime asked, string option, Timestamp first, Timestamp last)
    {
        Timestamp moment = asked.In(first);
        Duration slack = Duration.FromMilliseconds(1);
        if (moment < first - slack || moment > last + slack)
        {
            string span = new WallClock(asked.Zone, first, last).Span(first, last);
            throw new UsageException($"{option}: expected a time within the recording, {span}, found {new WallClock(asked.Zone, first, moment).Time(moment)}; give seconds from the first level (0 to {Figures.Number((last - first).TotalSeconds)}), or a time of that span");
        }

        return moment < first ? first : moment;
    }
}
