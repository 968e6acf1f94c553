using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Timing.Line;

/// <summary>
/// Collects the times of every packet on every line, apart by kind of packet, and judges each packet as it comes. About
/// 1 MB for each kind that appears on a line; nothing for a packet.
/// </summary>
/// <param name="against">Whose limits; null: by the START code of each packet.</param>
/// <param name="clockPpm">Error of the recorder's clock, parts per million.</param>
public sealed class LineTimingAnalyzer(LineRole? against, double clockPpm) : IAnalyzer
{
    private static readonly int Kinds = Enum.GetValues<LinePacketKind>().Length;
    private readonly PerIndex<Entry> _lines = new();

    /// <summary>Error of the recorder's clock that was assumed, parts per million.</summary>
    public double ClockPpm => clockPpm;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <inheritdoc/>
    public void OnLineTiming(in LineTiming timing)
    {
        ref Entry line = ref _lines[timing.UniverseIndex];
        line.Universe = timing.Universe;
        line.Kinds ??= new LinePopulation?[Kinds];
        LinePopulation population = line.Kinds[(int)timing.Kind] ??= new LinePopulation(RoleOf(timing.Kind), clockPpm * 1e-6);
        if (timing.Kind != LinePacketKind.DiscoveryReply)
        {
            population.Add(in timing);
        }

        if (timing.Kind == LinePacketKind.Levels)
        {
            Interval(population, in timing);
        }
        else if (!double.IsNaN(timing.SincePrevious))
        {
            Conversation(population, line.Kinds, in timing);
        }

        if (timing.IsCut && line.Kinds[(int)LinePacketKind.Levels] is LinePopulation levels)
        {
            levels.Last = null;
        }
    }

    /// <summary>The lines measured, by index of their universe, each with its kinds of packets.</summary>
    internal IEnumerable<(UniverseId Universe, LinePacketKind Kind, LinePopulation Population)> Populations()
    {
        for (int line = 0; line < _lines.Count; line++)
        {
            for (int kind = 0; _lines[line].Kinds is { } kinds && kind < kinds.Length; kind++)
            {
                if (kinds[kind] is LinePopulation population)
                {
                    yield return (_lines[line].Universe, (LinePacketKind)kind, population);
                }
            }
        }
    }

    private static void Interval(LinePopulation levels, in LineTiming timing)
    {
        if (levels.Last is Timestamp last)
        {
            levels.Of(LineQuantity.Silence).Add((timing.Time - last).TotalMicroseconds, timing.SamplePeriod);
        }

        levels.Last = timing.Time;
    }

    private static void Conversation(LinePopulation population, LinePopulation?[] kinds, in LineTiming timing)
    {
        if (timing.Previous != LinePacketKind.RdmRequest)
        {
            return;
        }

        switch (timing.Kind)
        {
            case LinePacketKind.RdmResponse:
                population.Of(LineQuantity.Turnaround).Add(timing.SincePrevious, timing.SamplePeriod);
                break;
            case LinePacketKind.DiscoveryReply:
                // Told with the responders' other answers where there are any.
                (kinds[(int)LinePacketKind.RdmResponse] ?? population).Of(LineQuantity.Turnaround).Add(timing.SincePrevious, timing.SamplePeriod);
                break;
            case LinePacketKind.RdmRequest:
                LineQuantity spacing = timing.PreviousIsDiscovery ? LineQuantity.SpacingAfterDiscovery
                    : timing.PreviousWantsAnswer ? LineQuantity.SpacingAfterNoAnswer
                    : LineQuantity.SpacingAfterBroadcast;
                population.Of(spacing).Add(timing.SincePrevious, timing.SamplePeriod);
                break;
        }
    }

    private LineRole RoleOf(LinePacketKind kind) => against ?? kind switch
    {
        LinePacketKind.Test => LineRole.TestPacket,
        LinePacketKind.RdmRequest => LineRole.RdmController,
        LinePacketKind.RdmResponse or LinePacketKind.DiscoveryReply => LineRole.RdmResponder,
        _ => LineRole.Transmitter,
    };

    private struct Entry
    {
        public UniverseId Universe;
        public LinePopulation?[]? Kinds;
    }
}
