using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>A capture that did not listen for a while says so with loss records; no sender is blamed for that time.</summary>
public class OwnGapTests
{
    private const long Second = 1_000_000_000;

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_is_missing_while_the_capture_was_deaf_is_held_against_nobody(bool said)
    {
        using Deaf source = new(said);
        SurveySnapshot survey = Surveyor.Run(source, default);
        StreamSummary stream = survey.Universes.Single().Streams.Single();

        // The healthy neighbour: the same hole without a word is the network's.
        Assert.Equal(said, stream.Returns == 0);
        Assert.Equal(said, !survey.Findings.Any(finding => finding.Id.Contains("silen", StringComparison.Ordinal) || finding.Text.Contains("fell silent", StringComparison.Ordinal)));
        Assert.Equal(said ? 5 : 0, survey.Inputs[0].LostByCapture);
        Assert.Equal(0, stream.Sequence.Lost);
    }

    /// <summary>A second of packets, 4 s without, and on; the hole is said once a second where it is said.</summary>
    private sealed class Deaf(bool said) : ICaptureSource
    {
        private readonly SimulatedSource _inner = new SimulatedNetwork(7)
            .Add(new SacnSource("a", Host.At("a", "192.0.2.10"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e"))
            {
                Streams = [new SacnStream { Universe = 1, Levels = Levels.Triangle(5 * Second), ConstantRate = true }],
            })
            .Run(10 * Second)
            .ToSource();

        private readonly Queue<Timestamp> _losses = new(said
            ? [At(1), At(2), At(3), At(4), At(5)]
            : []);

        private long _number;

        public string Name => "net";

        public IReadOnlyList<CaptureInterface> Interfaces => _inner.Interfaces;

        public InputProblem? Problem => null;

        public ReadStatus Read(out CaptureRecord record)
        {
            while (true)
            {
                ReadStatus status = _inner.Read(out record);
                if (status != ReadStatus.Record || record.Time < At(1) || record.Time > At(5))
                {
                    return status;
                }

                if (_losses.TryDequeue(out Timestamp time))
                {
                    record = new CaptureRecord { Number = ++_number, Time = time, Kind = RecordKind.Loss, InterfaceId = 0, LinkType = LinkType.Ethernet, LostBefore = 1 };
                    return ReadStatus.Record;
                }
            }
        }

        public void Dispose() => _inner.Dispose();

        private static Timestamp At(int second) => Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000 + (second * Second));
    }
}
