using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Capture.Filters;
using DmxProbe.Capture.Live;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Tests.Live;

/// <summary>What is measured while listening and what the recording of it gives afterwards are the same, to the last figure.</summary>
public sealed class LiveAndReplayTests : IDisposable
{
    private const long Second = 1_000_000_000;
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-live-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(1, 0.0, 0.0, 0.0)]
    [InlineData(2, 0.05, 0.0, 0.0)]
    [InlineData(3, 0.0, 0.05, 0.05)]
    [InlineData(4, 0.1, 0.02, 0.02)]
    [InlineData(5, 0.0, 0.0, 0.0)]
    [InlineData(6, 0.3, 0.1, 0.1)]
    public void Live_and_replay_give_identical_survey_timing_and_findings(int seed, double loss, double duplication, double reorder)
    {
        SimulatedCapture traffic = Network((ulong)seed, loss, duplication, reorder).Run(20 * Second);
        string folder = Path.Combine(_folder, "show");
        SurveySnapshot live;
        using (Recorder recorder = new(new RecorderSettings { Folder = folder, Clock = TimeProvider.System }))
        using (QueuedSource queued = new(new Ticking(traffic, seed)))
        using (RecordingSource recording = new(queued, recorder))
        {
            live = Surveyor.Run(recording, default);
        }

        using ICaptureSource replayed = RecordedFolder.Open(folder);
        SurveySnapshot replay = Surveyor.Run(replayed, default);
        Assert.NotEmpty(live.Universes);
        Assert.Equal(Survey(live), Survey(replay));
        Assert.Equal(Timing(live), Timing(replay));
        Assert.Equal(live.Findings.Select(Words), replay.Findings.Select(Words));
    }

    // The input's name, which findings and the page repeat, is the one thing that differs: a folder is no socket.
    private static string Survey(SurveySnapshot survey)
    {
        using MemoryStream page = new();
        SurveyJson.Write(page, survey with { Inputs = [], Findings = [] });
        return System.Text.Encoding.UTF8.GetString(page.ToArray());
    }

    private static string Timing(SurveySnapshot survey)
    {
        using MemoryStream page = new();
        TimingJson.Write(page, [new TimedInput("input", NetworkTiming.Measure(survey))]);
        return System.Text.Encoding.UTF8.GetString(page.ToArray());
    }

    private static string Words(Analysis.Findings.Finding finding) =>
        $"{finding.Id} {finding.Severity} {finding.From} {finding.To} {finding.Measured} {finding.FirstRecord}";

    private static SimulatedNetwork Network(ulong seed, double loss, double duplication, double reorder)
    {
        Host node = Host.At("node", "10.0.0.9");
        return new SimulatedNetwork(seed) { Loss = loss, Duplication = duplication, Reorder = reorder }
            .Add(new SacnSource("one", Host.At("a", "192.0.2.10"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e"))
            {
                Streams =
                [
                    new SacnStream { Universe = 1, Levels = Levels.Triangle(5 * Second) },
                    new SacnStream { Universe = 2, Levels = Levels.Steps(1, Second), ConstantRate = true, FirstSequence = 200 },
                ],
            })
            .Add(new SacnSource("two", Host.At("c", "192.0.2.11"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143f"))
            {
                Streams = [new SacnStream { Universe = 1, Levels = Levels.Steps(3, Second) }],
            })
            .Add(new ArtNetController("b", Host.At("b", "10.0.0.1"))
            {
                Outputs =
                [
                    new ArtNetOutput { PortAddress = 0, To = node, Levels = Levels.Triangle(3 * Second), SlotCount = 24 },
                    new ArtNetOutput { PortAddress = 17, To = node, Levels = Levels.Steps(2, Second), ConstantRate = true },
                ],
            });
    }

    /// <summary>The simulated packets as a live source gives them: idle times and losses of its own in between.</summary>
    private sealed class Ticking(SimulatedCapture traffic, int seed) : ILiveSource
    {
        private readonly SimulatedSource _inner = traffic.ToSource();
        private readonly Random _random = new(seed);
        private Timestamp _last = traffic.Start;
        private long _records;
        private bool _hasLoss = seed % 2 == 0;

        public string Name => "net";

        public IReadOnlyList<CaptureInterface> Interfaces => _inner.Interfaces;

        public InputProblem? Problem => null;

        public void Stop()
        {
        }

        public ReadStatus Read(out CaptureRecord record)
        {
            int chance = _random.Next(20);
            if (chance == 0)
            {
                record = new CaptureRecord { Number = _records, Time = _last, InterfaceId = 0 };
                return ReadStatus.Idle;
            }

            if (chance == 1 && _records > 500 && _hasLoss)
            {
                _hasLoss = false;
                record = new CaptureRecord { Number = ++_records, Time = _last, Kind = RecordKind.Loss, InterfaceId = 0, LinkType = LinkType.Ethernet, LostBefore = 7 };
                return ReadStatus.Record;
            }

            ReadStatus status = _inner.Read(out record);
            if (status == ReadStatus.Record)
            {
                _records++;
                _last = record.Time;
            }

            return status;
        }

        public void Dispose() => _inner.Dispose();
    }
}
