using System.Text.Json;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Diagnosis;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>The short way of frames that repeat, where several analyzers listen.</summary>
public class FanOutTests
{
    private const int Universes = 6;

    [Fact]
    public void Units_are_told_the_same_by_the_short_way_as_by_whole_frames()
    {
        Listener shortWay = new(new Units(), takesEveryRepeat: true);
        Listener whole = new(new Units(), takesEveryRepeat: false);
        (string shortSurvey, string shortUnits) = Run(shortWay);
        (string wholeSurvey, string wholeUnits) = Run(whole);

        Assert.True(shortWay.Repeats > 1000, $"only {shortWay.Repeats} frames went the short way");
        Assert.Equal(0, whole.Repeats);
        Assert.Equal(whole.Frames, shortWay.Frames + shortWay.Repeats);
        Assert.Equal(wholeSurvey, shortSurvey);
        Assert.Equal(wholeUnits, shortUnits);
    }

    [Fact]
    public void Nobody_is_asked_who_may_refuse_what_another_has_taken()
    {
        Listener first = new(new Units(), takesEveryRepeat: true), second = new(new Units(), takesEveryRepeat: false);

        Assert.False(Repeat(new FanOut(first, second)));
        Assert.Equal(0, first.Repeats);
        Assert.False(new FanOut(first, second).TakesEveryRepeat);
        Assert.True(Repeat(new FanOut(second, first)) is false && first.Repeats == 0);
        Assert.True(Repeat(new FanOut(first, first)));
        Assert.Equal(2, first.Repeats);
    }

    private static bool Repeat(FanOut all) => ((IFrameSink)all).TryRepeat(0, default, 1, default, [1, 2, 3]);

    private static (string Survey, string Units) Run(Listener listener)
    {
        using MemoryStream file = new();
        BenchmarkCapture.Write(file, Universes, megabytes: 5);
        file.Position = 0;
        using ICaptureSource source = CaptureFileReader.Open(file, "test");
        RecordDecoder decoder = new();
        SurveyAnalyzer survey = new();
        SurveySnapshot found = Surveyor.Run(source, decoder, survey, new FanOut(survey, listener), CancellationToken.None);
        return (JsonSerializer.Serialize(found), listener.Units.Told(decoder.Streams.Count));
    }

    /// <summary>Units of the second universe, looked at closely.</summary>
    private sealed class Units
    {
        private static readonly WatchedUnit[] Watched =
        [
            .. Enumerable.Range(0, 30).Select(n => new WatchedUnit(
                new PatchUnit($"U{n}", "head", "14 slot", 2, (n * 16) + 1, "", "", "", [], "", 0), FaultCharts.All.Find("head", "14 slot"), n == 29 ? 60 : 14)),
        ];

        public UnitActivityAnalyzer Analyzer { get; } = new(id => id.Number == 2 ? Watched : []);

        public string Told(int streams) => JsonSerializer.Serialize(
            Enumerable.Range(0, streams).Select(stream => (object)Watched.Select(unit => Analyzer.Snapshot(unit, stream, null, null) with { Watched = unit with { Mode = null } })));
    }

    private sealed class Listener(Units units, bool takesEveryRepeat) : IAnalyzer
    {
        public Units Units => units;

        public long Frames { get; private set; }

        public long Repeats { get; private set; }

        public bool TakesEveryRepeat => takesEveryRepeat;

        public void OnFrame(in DmxFrame frame)
        {
            Frames++;
            units.Analyzer.OnFrame(in frame);
        }

        public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
        {
            if (!takesEveryRepeat)
            {
                return false;
            }

            Repeats++;
            return units.Analyzer.TryRepeat(stream, time, sequence, print, slots);
        }

        public void OnEvent(in LinkEvent linkEvent) => units.Analyzer.OnEvent(in linkEvent);

        public void OnTime(Timestamp now) => units.Analyzer.OnTime(now);
    }
}
