using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Network;

/// <summary>A capture source over simulated packets, without a file.</summary>
public sealed class SimulatedSource(SimulatedCapture capture) : ICaptureSource
{
    private int _next;

    /// <inheritdoc/>
    public string Name => "simulated network";

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces { get; } =
    [
        new CaptureInterface(
            0, "mirror", "simulated mirror port", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Adapter),
    ];

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        if (_next == capture.Packets.Count)
        {
            record = new CaptureRecord { Number = _next, Time = capture.Start, InterfaceId = 0 };
            return ReadStatus.End;
        }

        SimulatedPacket packet = capture.Packets[_next++];
        record = new CaptureRecord
        {
            Number = _next,
            Time = packet.Time,
            Kind = RecordKind.Packet,
            InterfaceId = 0,
            LinkType = LinkType.Ethernet,
            OriginalLength = packet.Sent.Frame.Length,
            Data = packet.Sent.Frame,
        };
        return ReadStatus.Record;
    }

    /// <summary>Starts again from the first packet.</summary>
    public void Rewind() => _next = 0;

    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
