using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Universes;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Index;

public class TimeIndexTests
{
    private static readonly string Capture =
        Path.Combine(Places.Repository, "captures", "harbour-hall", "soundcheck.pcapng");

    [Theory]
    [InlineData(UniverseProtocol.Sacn, 2)]
    [InlineData(UniverseProtocol.Sacn, 3)]
    [InlineData(UniverseProtocol.ArtNet, 0)]
    public void Any_slot_at_any_time_is_what_reading_from_the_start_gives(UniverseProtocol protocol, int number)
    {
        UniverseId universe = new(protocol, number);
        using ISeekableSource source = (ISeekableSource)CaptureFile.Open(Capture);
        TimeIndex index = TimeIndex.Build(source, default);
        Assert.InRange(index.Count, 55, 61);
        Timestamp start = Timestamp.FromUnixNanoseconds(1_773_517_260_000_000_000);
        for (int second = 60; second >= 1; second -= 7)
        {
            Timestamp at = start + Duration.FromMilliseconds((second * 1000) + 13);
            Assert.Equal(FromTheStart(universe, at), Words(index.Ask(source, universe, at)));
        }
    }

    [Fact]
    public void Before_the_first_record_and_on_a_universe_nobody_sent_there_is_nothing()
    {
        using ISeekableSource source = (ISeekableSource)CaptureFile.Open(Capture);
        TimeIndex index = TimeIndex.Build(source, default);
        Assert.Empty(index.Ask(source, new UniverseId(UniverseProtocol.Sacn, 2), Timestamp.FromUnixNanoseconds(0) + Duration.FromSeconds(100)));
        Assert.Empty(index.Ask(source, new UniverseId(UniverseProtocol.Sacn, 9), Timestamp.FromUnixNanoseconds(1_773_517_290_000_000_000)));
    }

    private static List<string> FromTheStart(UniverseId universe, Timestamp at)
    {
        using ICaptureSource source = CaptureFile.Open(Capture);
        RecordDecoder decoder = new();
        LevelAnalyzer levels = new();
        while (source.Read(out CaptureRecord record) == ReadStatus.Record && record.Time <= at)
        {
            decoder.Decode(in record, levels);
        }

        List<LevelsAt> found = [];
        for (int stream = 0; stream < decoder.Streams.Count; stream++)
        {
            if (decoder.Streams.Universe(decoder.Streams.UniverseIndexOf(stream)) == universe && levels.Levels(stream).Length > 0)
            {
                found.Add(new LevelsAt(decoder.Senders.Describe(decoder.Streams.SenderOf(stream)), levels.Levels(stream).ToArray()));
            }
        }

        return Words(found);
    }

    private static List<string> Words(IEnumerable<LevelsAt> levels) =>
        [.. levels.Select(each => each.Sender.Address + " " + Convert.ToHexString(each.Slots)).Order(StringComparer.Ordinal)];
}
