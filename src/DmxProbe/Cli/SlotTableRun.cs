using System.Globalization;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>explain --slot</c> over several slots or times: who decides each, and why.</summary>
/// <param name="Answers">By time, then as asked.</param>
/// <param name="Unanswered">Times and slots of universes that nobody had sent by then.</param>
/// <param name="Senders">By index, every sender that an answer names.</param>
/// <param name="Survey">The survey of the same capture.</param>
internal sealed record SlotTableRun(
    IReadOnlyList<SlotAnswer> Answers,
    IReadOnlyList<(Timestamp At, UniverseId Universe, int FromSlot, int ToSlot)> Unanswered,
    IReadOnlyDictionary<int, SenderSummary> Senders,
    SurveySnapshot Survey)
{
    private const int MostAnswers = 2000;

    /// <summary>What the caller is told: a fault is a slot that nobody sends, that is frozen, or whose level nobody can tell; or an input was not read to its end.</summary>
    public int ExitCode => Unanswered.Count == 0 && Answers.All(SlotRun.IsClear) && !Survey.IsCut ? Cli.ExitCode.Clean : Cli.ExitCode.FaultsFound;

    /// <summary>Runs it.</summary>
    /// <param name="source">The capture; not disposed.</param>
    /// <param name="places">The slots asked about.</param>
    /// <param name="sheet">The sheet by whose numbers they are given; null without one.</param>
    /// <param name="map">The map as given; null = find it.</param>
    /// <param name="times">The times asked; empty = the end.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">A universe or a time does not serve, or too much is asked; one sentence.</exception>
    public static SlotTableRun Of(
        ICaptureSource source, IReadOnlyList<SlotPlace> places, SheetInUse? sheet, string? map, IReadOnlyList<AskedTime> times, CancellationToken stop)
    {
        int wanted = places.Sum(place => place.Count) * Math.Max(1, times.Count);
        if (wanted > MostAnswers)
        {
            throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--slot: expected at most {MostAnswers} answers (slots times moments of --at), found {wanted}; ask for fewer"));
        }

        List<SlotAsk> asks = [.. places.Select(place => new SlotAsk(SlotRun.Candidates(place, map, sheet?.Patch), place.Slot, place.Last))];
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        ArbitrationTable table = new(asks) { Times = times.Count == 0 ? null : () => decoder.FirstRecord is Timestamp start ? Moments(times, start) : null };
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, table), stop);
        stop.ThrowIfCancellationRequested();
        NoRecords.Refuse(survey.Inputs, "explain");
        (Timestamp first, Timestamp last) = (survey.First!.Value, survey.Last!.Value);

        IReadOnlyList<Timestamp> moments = times.Count == 0 ? [last] : [.. Moments(times, first).Select(moment => ExplainRun.Within(moment, first, last))];
        List<UniverseId> universes = [.. places.Select((place, i) => SlotRun.Resolve(place, asks[i].Universes, survey))];
        IReadOnlyList<SlotAnswer> answers = table.Answers(last);
        List<(Timestamp, UniverseId, int, int)> unanswered = [];
        foreach (Timestamp moment in moments)
        {
            for (int i = 0; i < places.Count; i++)
            {
                if (!answers.Any(answer => answer.At == moment && answer.Universe == universes[i]))
                {
                    unanswered.Add((moment, universes[i], places[i].Slot, places[i].Last));
                }
            }
        }

        Dictionary<int, SenderSummary> senders = [];
        foreach (int sender in answers.SelectMany(SlotRun.Named).Distinct())
        {
            senders[sender] = decoder.Senders.Describe(sender);
        }

        return new SlotTableRun(answers, unanswered, senders, survey);
    }

    private static List<Timestamp> Moments(IReadOnlyList<AskedTime> times, Timestamp first) =>
        [.. times.Select(time => time.In(first)).Order().Distinct()];
}
