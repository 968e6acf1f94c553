using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Universes;
using DmxProbe.Capture.Files;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Analysis.Tests.Index;

public sealed class ReviewIndexTests : IDisposable
{
    private static readonly string Capture = Path.Combine(Places.Repository, "captures", "harbour-hall", "soundcheck.pcapng");
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_773_517_260_000_000_000);
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-review-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(UniverseProtocol.Sacn, 2)]
    [InlineData(UniverseProtocol.Sacn, 3)]
    [InlineData(UniverseProtocol.ArtNet, 0)]
    public void Any_slot_at_any_time_is_what_reading_from_the_start_gives(UniverseProtocol protocol, int number)
    {
        UniverseId universe = new(protocol, number);
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(Capture));
        for (int second = 60; second >= 1; second -= 7)
        {
            Timestamp at = Start + Duration.FromMilliseconds((second * 1000) + 13);
            Assert.Equal(FromTheStart(Capture, universe, at), Words(index.LevelsAt(universe, at)));
        }
    }

    [Fact]
    public void A_single_capture_file_gets_no_file_beside_it()
    {
        string copy = Path.Combine(_folder, "copy.pcapng");
        File.Copy(Capture, copy);
        using (ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(copy)))
        {
            Assert.Equal(1, index.PartsMade);
            Assert.NotEmpty(index.LevelsAt(new UniverseId(UniverseProtocol.Sacn, 2), Start + Duration.FromSeconds(30)));
        }

        Assert.Equal([copy], Directory.GetFiles(_folder));
    }

    [Fact]
    public void A_folder_of_segments_answers_as_reading_it_from_the_start_does()
    {
        ShowPlan plan = Record(seconds: 95, segmentSeconds: 20);
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(_folder));
        Assert.Equal(5, index.PartsMade);
        Assert.Equal(3, index.Streams.Count);
        SeededRandom random = new(7);
        for (int ask = 0; ask < 40; ask++)
        {
            UniverseId universe = new(UniverseProtocol.Sacn, (int)random.Next(1, 4));
            Timestamp at = plan.Start + Duration.FromNanoseconds(random.Next(0, 96_000_000_000));
            Assert.Equal(FromTheStart(_folder, universe, at), Words(index.LevelsAt(universe, at)));
        }
    }

    [Fact]
    public void The_history_of_a_slot_is_every_change_that_was_recorded_and_no_other()
    {
        ShowPlan plan = Record(seconds: 70, segmentSeconds: 15);
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(_folder));
        UniverseId universe = new(UniverseProtocol.Sacn, 2);
        foreach ((int slot, double from, double to) in new[] { (1, 0.0, 80.0), (7, 3.2, 66.6), (100, 14.9, 15.2), (512, 0.0, 80.0), (505, 20.0, 20.0) })
        {
            Timestamp start = plan.Start + Duration.FromSeconds(from);
            Timestamp end = plan.Start + Duration.FromSeconds(to);
            SlotSeries series = Assert.Single(index.History(universe, slot, start, end));
            (Timestamp Time, int Level)[] expected = ReadHistory(universe, slot, start, end);
            (Timestamp Time, int Level)[] found = [.. series.Changes.Select(change => (change.Time, change.Level))];
            Assert.Equal(expected, found);
        }
    }

    [Fact]
    public void Times_of_frames_are_those_of_the_recording()
    {
        ShowPlan plan = Record(seconds: 40, segmentSeconds: 15);
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(_folder));
        List<Timestamp> expected = [];
        using ICaptureSource source = CaptureFile.Open(_folder);
        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        Frames(source, decoder, new UniverseId(UniverseProtocol.Sacn, 3), (time, _) => expected.Add(time));
        Assert.Equal(expected, index.FrameTimes(index.Streams[2], plan.Start, Timestamp.MaxValue));
        Assert.Equal(expected.Count, index.Streams[2].Frames);
        Assert.Equal(expected[0], index.Streams[2].First);
        Assert.Equal(expected[^1], index.Streams[2].Last);
    }

    [Fact]
    public void A_review_file_is_used_again_and_made_again_only_where_it_is_missing_or_not_true()
    {
        Record(seconds: 40, segmentSeconds: 10);
        Assert.Equal(4, Made());
        Assert.Equal(0, Made());
        string[] files = ReviewFiles();
        File.Delete(files[1]);
        Assert.Equal(1, Made());
        File.Copy(files[0], files[2], overwrite: true); // of another segment
        Assert.Equal(1, Made());
        string segment = files[3][..^RecordedParts.Suffix.Length];
        using (FileStream grown = new(segment, FileMode.Append))
        {
            grown.Write(new byte[4]);
        }

        Assert.Equal(1, Made());
        int Made()
        {
            using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(_folder));
            return index.PartsMade;
        }
    }

    [Fact]
    public void Whatever_happens_to_a_review_file_the_answers_stay_right()
    {
        ShowPlan plan = Record(seconds: 30, segmentSeconds: 10);
        List<string> right = Answers(plan, out _);
        byte[] whole = File.ReadAllBytes(ReviewFiles()[1]);
        SeededRandom random = new(11);
        int noticed = 0;
        for (int trial = 0; trial < 60; trial++)
        {
            byte[] harmed = trial % 3 == 0 ? whole[..(int)random.Next(0, whole.Length)] : [.. whole];
            if (trial % 3 == 1)
            {
                harmed[random.Next(0, harmed.Length)] ^= (byte)(1 << (int)random.Next(0, 8));
            }
            else if (trial % 3 == 2)
            {
                // The directory and the header, where places and lengths are.
                for (int i = 0; i < 8; i++)
                {
                    harmed[random.Chance(0.5) ? random.Next(0, 64) : random.Next(harmed.Length - 300, harmed.Length)] = (byte)random.Next(0, 256);
                }
            }

            File.WriteAllBytes(ReviewFiles()[1], harmed);
            Assert.Equal(right, Answers(plan, out int made));
            noticed += made;
        }

        Assert.InRange(noticed, 40, 60);
    }

    [Fact]
    public void Fewer_slots_a_priority_and_the_end_of_a_stream_are_told()
    {
        SacnSource sender = new("desk", Testing.Network.Packets.Host.At("desk", "10.0.0.1"), Testing.Network.Packets.SacnPackets.Cid("11111111-2222-3333-4444-555555555555"))
        {
            Streams =
            [
                new SacnStream { Universe = 7, SlotCount = 24, Priority = 150, Stop = 5_000_000_000, Levels = (time, slots) => slots.Fill((byte)(time / 1_000_000_000)) },
            ],
        };
        SimulatedCapture capture = new SimulatedNetwork(3) { Start = Start }.Add(sender).Run(20_000_000_000);
        RecordedShow.Record(new SimulatedSource(capture), _folder, Duration.FromSeconds(2));
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(_folder));
        UniverseId universe = new(UniverseProtocol.Sacn, 7);
        ReviewLevels during = Assert.Single(index.LevelsAt(universe, Start + Duration.FromSeconds(3.5)));
        Assert.Equal((24, 150, false), (during.Slots.Length, during.Priority, during.IsEnded));
        Assert.All(during.Slots, level => Assert.Equal(3, level));
        Assert.True(Assert.Single(index.LevelsAt(universe, Start + Duration.FromSeconds(6))).IsEnded);
        Assert.Empty(index.LevelsAt(universe, Start + Duration.FromSeconds(18)));
        Assert.Equal([-1], Assert.Single(index.History(universe, 25, Start, Start + Duration.FromSeconds(9))).Changes.Select(change => change.Level));
        Assert.Equal([0, 1, 2, 3, 4], Assert.Single(index.History(universe, 24, Start, Start + Duration.FromSeconds(9))).Changes.Select(change => change.Level));
    }

    [Fact]
    public void A_clock_that_was_set_back_loses_no_frame()
    {
        List<Timestamp> times = [];
        ShowPlan plan = new() { Universes = 1, Seconds = 20 };
        RecordedShow.Record(new ClockSet(new CuedShow(plan), plan.Start + Duration.FromSeconds(12), times), _folder, Duration.FromSeconds(4));
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(_folder));
        Assert.Equal(times, index.FrameTimes(index.Streams[0], Timestamp.MinValue, Timestamp.MaxValue));
    }

    private ShowPlan Record(double seconds, double segmentSeconds)
    {
        ShowPlan plan = new() { Universes = 3, Seconds = seconds, MeanGap = 3 };
        RecordedShow.Record(new CuedShow(plan), _folder, Duration.FromSeconds(segmentSeconds));
        return plan;
    }

    private string[] ReviewFiles() => [.. Directory.GetFiles(_folder, "*" + RecordedParts.Suffix).Order(StringComparer.Ordinal)];

    private List<string> Answers(ShowPlan plan, out int made)
    {
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(_folder));
        List<string> answers = [];
        for (int second = 2; second < 30; second += 3)
        {
            answers.AddRange(Words(index.LevelsAt(new UniverseId(UniverseProtocol.Sacn, 1 + (second % 3)), plan.Start + Duration.FromSeconds(second))));
        }

        for (int slot = 1; slot <= 512; slot += 73)
        {
            answers.AddRange(index.History(new UniverseId(UniverseProtocol.Sacn, 2), slot, plan.Start, plan.Start + Duration.FromSeconds(40))
                .SelectMany(series => series.Changes.Select(change => change.ToString())));
        }

        made = index.PartsMade;
        return answers;
    }

    private (Timestamp Time, int Level)[] ReadHistory(UniverseId universe, int slot, Timestamp from, Timestamp to)
    {
        List<(Timestamp Time, int Level)> changes = [];
        using ICaptureSource source = CaptureFile.Open(_folder);
        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        Frames(source, decoder, universe, (time, slots) =>
        {
            if (time <= to && (changes.Count == 0 || changes[^1].Level != slots[slot - 1]))
            {
                changes.Add((time, slots[slot - 1]));
            }
        });
        int before = changes.FindLastIndex(change => change.Time <= from);
        return [.. changes[Math.Max(before, 0)..]];
    }

    private static void Frames(ICaptureSource source, RecordDecoder decoder, UniverseId universe, Action<Timestamp, byte[]> take)
    {
        Taker taker = new(universe, take);
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            decoder.Decode(in record, taker);
        }
    }

    private static List<string> FromTheStart(string path, UniverseId universe, Timestamp at)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        LevelAnalyzer levels = new();
        Dictionary<int, Timestamp> last = [];
        Taker taker = new(universe, (_, _) => { });
        while (source.Read(out CaptureRecord record) == ReadStatus.Record && record.Time <= at)
        {
            decoder.Decode(in record, levels);
            taker.Last.Clear();
            decoder.Decode(in record, taker);
            foreach (int stream in taker.Last)
            {
                last[stream] = record.Time;
            }
        }

        List<string> found = [];
        for (int stream = 0; stream < decoder.Streams.Count; stream++)
        {
            if (decoder.Streams.Universe(decoder.Streams.UniverseIndexOf(stream)) == universe && levels.Levels(stream).Length > 0
                && last.TryGetValue(stream, out Timestamp time) && time >= at - TimeIndex.RunUp)
            {
                found.Add(decoder.Senders.Describe(decoder.Streams.SenderOf(stream)).Address + " " + Convert.ToHexString(levels.Levels(stream)));
            }
        }

        found.Sort(StringComparer.Ordinal);
        return found;
    }

    private static List<string> Words(IEnumerable<ReviewLevels> levels) =>
        [.. levels.Select(each => each.Sender.Address + " " + Convert.ToHexString(each.Slots)).Order(StringComparer.Ordinal)];

    private sealed class Taker(UniverseId universe, Action<Timestamp, byte[]> take) : IFrameSink
    {
        public List<int> Last { get; } = [];

        public void OnFrame(in DmxFrame frame)
        {
            if (frame.StartCode == 0 && frame.Universe == universe && (frame.Flags & (FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged)) == 0)
            {
                Last.Add(frame.Stream);
                take(frame.Time, frame.Slots.ToArray());
            }
        }

        public void OnEvent(in LinkEvent linkEvent)
        {
        }
    }

    // From a moment on the clock is 30 s behind.
    private sealed class ClockSet(ICaptureSource inner, Timestamp when, List<Timestamp> times) : ICaptureSource
    {
        public string Name => inner.Name;

        public IReadOnlyList<CaptureInterface> Interfaces => inner.Interfaces;

        public InputProblem? Problem => inner.Problem;

        public ReadStatus Read(out CaptureRecord record)
        {
            ReadStatus status = inner.Read(out CaptureRecord read);
            record = new CaptureRecord
            {
                Number = read.Number,
                Time = read.Time > when ? read.Time - Duration.FromSeconds(30) : read.Time,
                InterfaceId = read.InterfaceId,
                LinkType = read.LinkType,
                OriginalLength = read.OriginalLength,
                Data = read.Data,
            };
            if (status == ReadStatus.Record)
            {
                times.Add(record.Time);
            }

            return status;
        }

        public void Dispose() => inner.Dispose();
    }
}
