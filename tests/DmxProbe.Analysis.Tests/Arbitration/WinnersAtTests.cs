using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Arbitration;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Arbitration;

/// <summary>Who decided which slots at any moment, from the changes that one reading of the whole capture kept.</summary>
public sealed class WinnersAtTests
{
    private static readonly string[] Files =
    [
        Path.Combine([Places.Repository, "captures", .. WhoWins.File.Split('/')]),
        Path.Combine(Places.Repository, "captures", "harbour-hall", "soundcheck.pcapng"),
        Path.Combine(Places.Repository, "captures", "net", "gen_sacn_two_sources_terminate.pcap"),
    ];

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Every_moment_is_told_as_a_reading_up_to_it_tells_it(int file)
    {
        SurveySnapshot whole = Survey(Files[file], moreChanges: 100_000);
        double seconds = (whole.Last!.Value - whole.First!.Value).TotalSeconds;
        int told = 0;

        // At any time, and at the very moment of changes that a frame made (silence ends at one moment or right behind it).
        Timestamp[] changes = [.. whole.Universes.SelectMany(universe => universe.Arbitration!.Changes).Where(change => change.Cause == ChangeCause.LevelChanged).Select(change => change.Time).Distinct().Order()];
        Timestamp[] moments =
        [
            .. Enumerable.Range(1, 23).Select(step => whole.First.Value + Duration.FromSeconds(seconds * step / 24)),
            .. changes.Where((_, number) => number % Math.Max(1, changes.Length / 6) == 0),
        ];
        foreach (Timestamp at in moments)
        {
            RecordDecoder decoder = new();
            ArbitrationUntil until = new(_ => true) { Until = () => at };
            Read(Files[file], decoder, until);
            foreach (UniverseSummary universe in whole.Universes)
            {
                IReadOnlyList<SlotAnswer> answers = until.Ask(decoder.Streams, universe.Id, 1, 512);
                IReadOnlyList<WinnerRange>? winners = universe.Arbitration!.WinnersAt(at);
                Assert.NotNull(winners);
                if (answers.Count == 0 || winners.Count == 0)
                {
                    continue;
                }

                foreach (SlotAnswer answer in answers)
                {
                    SlotCase expected = answer.Cases[0];
                    SlotCase? found = winners.FirstOrDefault(range => range.FromSlot <= answer.Slot && answer.Slot <= range.ToSlot)?.Cases[0];
                    string where = $"{universe.Id.Label} slot {answer.Slot} at {(at - whole.First.Value).TotalSeconds:0.00} s: {string.Join(',', expected.Senders)} {expected.Rule}, found {string.Join(',', found?.Senders ?? [])} {found?.Rule}";
                    Assert.True(expected.Senders.SequenceEqual(found?.Senders ?? []), where);
                    Assert.True(expected.Senders.Count == 0 || expected.IsDecided == found!.IsDecided, where);
                    told++;
                }
            }
        }

        Assert.InRange(told, 1000, int.MaxValue);
    }

    [Fact]
    public void Behind_the_first_change_that_was_not_kept_nothing_is_told()
    {
        UniverseArbitration kept = Survey(Files[0], moreChanges: 100_000).Universes.First(universe => universe.Arbitration!.Changes.Count > 3).Arbitration!;
        Timestamp third = kept.Changes[2].Time;
        UniverseArbitration cut = kept with { Changes = [.. kept.Changes.Take(2)], ChangesNotListed = 1, FirstChangeNotListed = third };
        Assert.Null(cut.WinnersAt(third));
        Assert.NotNull(cut.WinnersAt(third - Duration.FromNanoseconds(1)));
    }

    // Scrubbing is to answer within 50 ms; this is the most that is kept, all of it on one universe.
    [Fact]
    public void The_most_changes_that_are_kept_are_gone_through_within_the_time_of_a_picture()
    {
        Random random = new(3);
        WinnerChange[] changes =
        [
            .. Enumerable.Range(0, 200_000).Select(number =>
            {
                int from = random.Next(1, 500);
                return new WinnerChange(TrafficScript.At(number * 0.01), from, from + random.Next(12), WinCondition.Always, [number % 2], [1 - (number % 2)], WinRule.HighestValue, ChangeCause.LevelChanged, 0);
            }),
        ];
        UniverseArbitration kept = new() { Obeyed = [], Changes = changes };
        TimeSpan least = TimeSpan.MaxValue;
        for (int round = 0; round < 8; round++)
        {
            System.Diagnostics.Stopwatch watch = System.Diagnostics.Stopwatch.StartNew();
            Assert.NotEmpty(kept.WinnersAt(TrafficScript.At(1000))!);
            least = watch.Elapsed < least ? watch.Elapsed : least;
        }

        Assert.InRange(least.TotalMilliseconds, 0, 50);
    }

    [Fact]
    public void Room_for_more_changes_is_shared_and_used_up()
    {
        ChangeRoom room = new(2);
        Assert.True(room.TryTake());
        Assert.True(room.TryTake());
        Assert.False(room.TryTake());
        UniverseHistory usual = new(), roomy = new(new ChangeRoom(10));
        foreach (UniverseHistory history in new[] { usual, roomy })
        {
            for (int change = 0; change < UniverseHistory.MostLevelChanges + 5; change++)
            {
                Timestamp at = TrafficScript.At(change);
                if (history.Wants(ChangeCause.LevelChanged, at))
                {
                    history.Add(new WinnerChange(at, 1, 1, WinCondition.Always, [], [0], WinRule.HighestValue, ChangeCause.LevelChanged, 0));
                }
            }
        }

        Assert.Equal(5, usual.ChangesNotListed);
        Assert.Equal(TrafficScript.At(UniverseHistory.MostLevelChanges), usual.FirstNotListed);
        Assert.Equal(0, roomy.ChangesNotListed);
        Assert.Null(roomy.FirstNotListed);
    }

    private static SurveySnapshot Survey(string file, int moreChanges)
    {
        using ICaptureSource source = CaptureFile.Open(file);
        SurveyAnalyzer survey = new(moreChanges);
        return Surveyor.Run(source, new RecordDecoder(), survey, survey, CancellationToken.None);
    }

    private static void Read(string file, RecordDecoder decoder, IAnalyzer analyzer)
    {
        using ICaptureSource source = CaptureFile.Open(file);
        new Session(source, decoder, analyzer).Run(CancellationToken.None);
    }
}
