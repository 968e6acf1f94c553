using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Serial;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding.Serial;

/// <summary>Records of serial ports to frames and events. The first serial interface of a source is port A, the next B.</summary>
internal sealed class SerialDecoder(StreamTable streams, FramedOptions options)
{
    private readonly PerIndex<Slot> _ports = new();

    /// <summary>Decodes a record.</summary>
    /// <returns>Why it or a message in it could not be read; kind None when all is well.</returns>
    public WireError Decode(in CaptureRecord record, IReadOnlyList<CaptureInterface> interfaces, IFrameSink sink)
    {
        ref Slot slot = ref _ports[record.InterfaceId];
        SerialPortState? port = slot.Port ??= Open(record.InterfaceId, interfaces);
        if (port is null)
        {
            return new WireError(WireErrorKind.NotThisProtocol, 0, 0, record.Data.Length);
        }

        WireError error = default;
        port.Take(in record, new SerialOutput(streams, port, sink, ref error));
        return error;
    }

    /// <summary>The source lost records of an interface.</summary>
    public void Lost(int interfaceId)
    {
        if (interfaceId < _ports.Count)
        {
            _ports[interfaceId].Port?.Lost();
        }
    }

    private SerialPortState? Open(int interfaceId, IReadOnlyList<CaptureInterface> interfaces)
    {
        int before = 0;
        foreach (CaptureInterface each in interfaces)
        {
            if (each.Id == interfaceId)
            {
                UniverseId universe = new(UniverseProtocol.Serial, before);
                return each.Content switch
                {
                    InterfaceContent.SerialUart => new UartPort(universe, each.Name),
                    InterfaceContent.SerialFramed => new FramedPort(universe, each.Name, options),
                    _ => null,
                };
            }

            before += each.Content is InterfaceContent.SerialUart or InterfaceContent.SerialFramed ? 1 : 0;
        }

        return null;
    }

    private struct Slot
    {
        public SerialPortState? Port;
    }
}
