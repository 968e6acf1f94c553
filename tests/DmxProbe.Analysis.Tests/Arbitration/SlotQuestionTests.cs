using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Arbitration;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Arbitration;

public sealed class SlotQuestionTests
{
    [Theory]
    [InlineData("harbour-hall/soundcheck.pcapng", UniverseProtocol.Sacn, 2, 1_773_517_260.0, 60)]
    [InlineData("harbour-hall/soundcheck.pcapng", UniverseProtocol.ArtNet, 0, 1_773_517_260.0, 60)]
    [InlineData("arbitration/who-wins.pcapng", UniverseProtocol.Sacn, 2, 1_773_517_440.0, 16)]
    [InlineData("arbitration/who-wins.pcapng", UniverseProtocol.Sacn, 3, 1_773_517_440.0, 6)]
    [InlineData("arbitration/who-wins.pcapng", UniverseProtocol.ArtNet, 1, 1_773_517_440.0, 31)]
    public void Through_the_index_a_slot_is_what_reading_from_the_start_gives(string file, UniverseProtocol protocol, int number, double start, int seconds)
    {
        UniverseId universe = new(protocol, number);
        using ISeekableSource source = (ISeekableSource)CaptureFile.Open(Path.Combine([Places.Repository, "captures", .. file.Split('/')]));
        TimeIndex index = TimeIndex.Build(source, default);
        Random random = new(8);
        for (int i = 0; i < 25; i++)
        {
            int slot = random.Next(1, 30);
            Timestamp at = Timestamp.FromUnixNanoseconds((long)start * 1_000_000_000) + Duration.FromSeconds(1 + (random.NextDouble() * (seconds - 1)));
            string asked = Words(SlotQuestion.Ask(index, source, universe, slot, at)?.Answer);
            index.SeekBefore(source, Timestamp.MinValue, out _);
            RecordDecoder decoder = new() { Interfaces = source.Interfaces };
            ArbitrationUntil whole = new(id => id == universe) { Until = () => at };
            new Session(new Nondisposing(source), decoder, whole).Run(default);
            whole.OnTime(at);
            Assert.Equal(Words(whole.Ask(decoder.Streams, universe, slot, slot) is [var answer] ? answer : null), asked);
        }
    }

    [Fact]
    public void The_senders_it_names_are_described()
    {
        using ISeekableSource source = (ISeekableSource)CaptureFile.Open(Path.Combine([Places.Repository, "captures", .. WhoWins.File.Split('/')]));
        TimeIndex index = TimeIndex.Build(source, default);
        SlotFinding found = SlotQuestion.Ask(index, source, new UniverseId(UniverseProtocol.Sacn, 1), 1, TrafficScript.At(4.5))!;
        SlotNarrator narrator = new(sender => found.Senders[sender].Name, moment => (moment - TrafficScript.Start).TotalSeconds.ToString("0.0", CultureInfo.InvariantCulture));
        Assert.Equal("sACN 1 slot 1 at 4.5: 200 from Backup, by the highest packet priority (150; the next has 100).", narrator.Sentence(found.Answer));
        Assert.Equal("It moved last at 4.0, from a level that could not be decided to 200: Backup changed its priority.", narrator.Moved(found.Answer));
        Assert.Null(SlotQuestion.Ask(index, source, new UniverseId(UniverseProtocol.Sacn, 9), 1, TrafficScript.At(4.5)));
    }

    private static string Words(SlotAnswer? answer) => answer is null ? "none" : string.Join("; ", answer.Cases.Select(each => string.Create(
        CultureInfo.InvariantCulture,
        $"{each.Condition} {each.Senders.Count} {each.Rule} {each.Value} moved {each.Moved?.Time} {each.Moved?.From} {each.Moved?.To} {each.Moved?.Cause}")));

    private sealed class Nondisposing(ICaptureSource inner) : ICaptureSource
    {
        public string Name => inner.Name;

        public IReadOnlyList<CaptureInterface> Interfaces => inner.Interfaces;

        public InputProblem? Problem => inner.Problem;

        public ReadStatus Read(out CaptureRecord record) => inner.Read(out record);

        public void Dispose()
        {
        }
    }
}
