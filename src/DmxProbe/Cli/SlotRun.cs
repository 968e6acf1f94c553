using System.Globalization;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>explain --slot</c>: who decides one slot at a time, why, and who moved it last.</summary>
/// <param name="Answer">The answer; null where nobody sent the universe up to then.</param>
/// <param name="Universe">The universe asked about.</param>
/// <param name="Slot">The slot.</param>
/// <param name="At">The time asked.</param>
/// <param name="Senders">By index, every sender of the capture that the answer names.</param>
/// <param name="Survey">The survey of the same capture.</param>
internal sealed record SlotRun(SlotAnswer? Answer, UniverseId Universe, int Slot, Timestamp At, IReadOnlyDictionary<int, SenderSummary> Senders, SurveySnapshot Survey)
{
    /// <summary>What the caller is told: a fault is a slot that nobody sends, that is frozen, or whose level nobody can tell; or an input was not read to its end.</summary>
    public int ExitCode => Answer is { } answer && IsClear(answer) && !Survey.IsCut ? Cli.ExitCode.Clean : Cli.ExitCode.FaultsFound;

    /// <summary>Whether somebody sends the slot and its level can be told.</summary>
    public static bool IsClear(SlotAnswer answer) =>
        answer.Sync != SyncState.Frozen
        && answer.Cases.Where(each => each.Condition != WinCondition.WithoutSynchronization).All(each => each.Senders.Count > 0 && (each.IsDecided || each.Value >= 0));

    /// <summary>Runs it.</summary>
    /// <param name="source">The capture; not disposed.</param>
    /// <param name="place">The slot asked about.</param>
    /// <param name="sheet">The sheet by whose numbers it is given; null without one.</param>
    /// <param name="map">The map as given; null = find it.</param>
    /// <param name="at">The time asked; null = the end.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">The universe or the time does not serve; one sentence.</exception>
    public static SlotRun Of(ICaptureSource source, SlotPlace place, SheetInUse? sheet, string? map, AskedTime? at, CancellationToken stop)
    {
        IReadOnlyList<UniverseId> candidates = Candidates(place, map, sheet?.Patch);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        ArbitrationUntil arbitration = new(candidates.Contains) { Until = () => decoder.FirstRecord is Timestamp start ? at?.In(start) : null };
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, arbitration), stop);
        stop.ThrowIfCancellationRequested();
        NoRecords.Refuse(survey.Inputs, "explain");
        (Timestamp first, Timestamp last) = (survey.First!.Value, survey.Last!.Value);

        Timestamp moment = ExplainRun.Within(at?.In(first) ?? last, first, last);
        UniverseId universe = Resolve(place, candidates, survey);
        SlotAnswer? answer = arbitration.Ask(decoder.Streams, universe, place.Slot, place.Slot) is [SlotAnswer only] ? only : null;
        Dictionary<int, SenderSummary> senders = [];
        foreach (int sender in Named(answer))
        {
            senders[sender] = decoder.Senders.Describe(sender);
        }

        return new SlotRun(answer, universe, place.Slot, moment, senders, survey);
    }

    /// <summary>Which of them it is, by what was captured.</summary>
    /// <exception cref="UsageException">Several are, or none is.</exception>
    public static UniverseId Resolve(SlotPlace place, IReadOnlyList<UniverseId> candidates, SurveySnapshot survey)
    {
        UniverseId[] present = [.. survey.Universes.Select(universe => universe.Id).Where(candidates.Contains)];
        if (place.Wire is null && present.Length > 1)
        {
            throw new UsageException(string.Create(
                CultureInfo.InvariantCulture,
                $"--slot: universe {place.Number} may be {string.Join(" or ", present.Select(choice => choice.Label))} in this capture; say which, such as --slot {(present[0].Protocol == UniverseProtocol.Sacn ? "sacn" : "artnet")}:{present[0].Number}.{place.Slot}"));
        }

        return present.Length > 0 ? present[0]
            : candidates.Count > 0 && place.Wire is not null ? candidates[0]
            : throw new UsageException(string.Create(
                CultureInfo.InvariantCulture,
                $"--slot: universe {place.Number} is not in this capture, which has {(survey.Universes.Count == 0 ? "none" : string.Join(", ", survey.Universes.Take(8).Select(each => each.Id.Label)))}"));
    }

    /// <summary>The universes of the wire that a place may be meant of.</summary>
    /// <exception cref="UsageException">The map is none, or names a universe that the sheet does not have.</exception>
    public static IReadOnlyList<UniverseId> Candidates(SlotPlace place, string? map, PatchSheet? sheet)
    {
        if (place.Wire is UniverseId named)
        {
            return [named];
        }

        return [.. UniverseMap.Choices(place.Number, sheet?.UniverseBase ?? 1, UniverseMap.Given(map, sheet))];
    }

    /// <summary>Whom an answer names.</summary>
    public static IEnumerable<int> Named(SlotAnswer? answer) => answer is null ? [] : answer.Cases.SelectMany(each => each.Senders)
        .Concat(answer.Contenders.Select(each => each.Sender))
        .Concat(answer.Cases.Select(each => each.Moved?.MovedBy ?? -1))
        .Where(sender => sender >= 0)
        .Distinct();
}
