using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One question to a recording, and its answer.</summary>
internal sealed record ReviewRun
{
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

    /// <summary>1 where nobody sent the universe then.</summary>
    public int ExitCode => Universe is not null && Levels.Count + History.Count == 0 ? Cli.ExitCode.FaultsFound : Cli.ExitCode.Clean;

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
            throw new UsageException($"{name}: no levels were recorded, so there is nothing to look up; survey says what is in it");
        }

        ReviewRun run = new() { Index = index, First = first, Last = last };
        if (unit is not null)
        {
            return OfUnit(run, universe, slot, sheet.Find(unit), at, from ?? to);
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
            Timestamp moment = Inside(at.In(first), "--at", first, last);
            run = run with { At = moment };
            return slot is int one
                ? run with { History = index.SlotAt(run.Universe!.Value, one, moment) }
                : run with { Levels = index.LevelsAt(run.Universe!.Value, moment) };
        }

        if (slot is not int asked)
        {
            throw new UsageException("expected --at TIME for all slots of a universe at a moment, or --slot N for the history of a slot; found neither");
        }

        Timestamp start = from is null ? first : Inside(from.In(first), "--from", first, last);
        Timestamp end = to is null ? last : Inside(to.In(first), "--to", first, last);
        return start <= end
            ? run with { From = start, To = end, History = index.History(run.Universe!.Value, asked, start, end) }
            : throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--from {start} is later than --to {end}; exchange them"));
    }

    private static ReviewRun OfUnit(ReviewRun run, string? universe, int? slot, (PatchUnit Unit, UniverseId Universe) found, AskedTime? at, AskedTime? span)
    {
        if (universe is not null || slot is not null)
        {
            throw new UsageException("--unit stands instead of --universe and --slot; give the one or the other");
        }

        if (at is null || span is not null)
        {
            throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--unit is looked up at a moment: add --at TIME; a history is of one slot: --universe {WireUniverse.Word(found.Universe)} --slot {found.Unit.Address} is the first of {found.Unit.Unit}"));
        }

        Timestamp moment = Inside(at.In(run.First), "--at", run.First, run.Last);
        return run with { Unit = found.Unit.Unit, Universe = found.Universe, At = moment, Levels = run.Index.LevelsAt(found.Universe, moment) };
    }

    // What a screen shows is cut to a millisecond: the first and the last moment as they were read off are inside.
    internal static Timestamp Inside(Timestamp moment, string option, Timestamp first, Timestamp last)
    {
        Duration slack = Duration.FromMilliseconds(1);
        return moment < first - slack || moment > last + slack
            ? throw new UsageException($"{option}: expected a time within the recording, {first} to {last}, found {moment}; give seconds from the first level, or a time of that span")
            : moment < first ? first
            : moment;
    }
}
