using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Serial;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding.Serial;

/// <summary>Packets from the messages of a framed interface, at the time of the record that brought the end of the message.</summary>
internal sealed class FramedPort(UniverseId universe, string name, FramedOptions options) : SerialPortState(universe, name, "usb")
{
    private readonly FramedScanner _scanner = new(options.LongestPayload);
    private readonly byte[] _packet = new byte[LongestPacket];
    private int _length = options.ChangesFromZero ? LongestPacket : 0; // 0: no whole packet yet
    private long _told;

    public override void Lost()
    {
        _scanner.Reset();
        _length = 0;
    }

    public override void Take(in CaptureRecord record, SerialOutput output)
    {
        if (!SerialRun.TryParse(record.Data, out SerialRun run))
        {
            output.Refuse(new(WireErrorKind.Invalid, record.Data.Length, record.Data.Length - 1, record.Data.Length));
        }

        for (int i = 0; i < run.Count; i++)
        {
            if ((run.Status(i) & SerialStatus.Overrun) != 0)
            {
                output.Event(in record, LinkEventKind.SerialOverrun, _scanner.Pending);
                Lost();
            }

            _scanner.Add(run[i]);
            while (_scanner.TryTake(out FramedMessage message))
            {
                Message(in record, in message, output);
            }
        }

        if (_scanner.Skipped > _told)
        {
            output.Event(in record, LinkEventKind.SerialGarbage, _scanner.Skipped - _told);
            _told = _scanner.Skipped;
        }
    }

    private void Message(in CaptureRecord record, in FramedMessage message, SerialOutput output)
    {
        if (message.Label == options.ReceivedLabel)
        {
            Received(in record, message.Payload, output);
        }
        else if (message.Label == options.ChangeLabel)
        {
            Changed(in record, message.Payload, output);
        }
        else
        {
            output.Event(in record, LinkEventKind.FramedOther, message.Label, message.Payload.Length);
        }
    }

    private void Received(in CaptureRecord record, ReadOnlySpan<byte> payload, SerialOutput output)
    {
        if (!ReceivedPacket.TryParse(payload, options, out ReceivedPacket received, out WireError error))
        {
            output.Refuse(error);
            return;
        }

        if (received.IsDamaged)
        {
            output.Event(in record, LinkEventKind.FramedDamage, received.Status);
        }

        ReadOnlySpan<byte> packet = payload[options.StatusOctets..];
        output.Packet(in record, packet, received.IsDamaged);
        if (received.StartCode == 0 && !received.IsDamaged)
        {
            packet.CopyTo(_packet);
            _length = packet.Length;
        }
    }

    private void Changed(in CaptureRecord record, ReadOnlySpan<byte> payload, SerialOutput output)
    {
        if (!ChangedSlots.TryParse(payload, out ChangedSlots changed, out WireError error))
        {
            output.Refuse(error);
            return;
        }

        if (_length == 0)
        {
            output.Event(in record, LinkEventKind.ChangeWithoutPacket);
            return;
        }

        int last = changed.Apply(_packet);
        if (last >= _length)
        {
            // Slots between the last packet's end and the change were never told.
            _packet.AsSpan(_length, last + 1 - _length).Clear();
            _length = last + 1;
            changed.Apply(_packet);
        }

        output.Packet(in record, _packet.AsSpan(0, _length), isDamaged: false);
        if (_packet[0] != 0)
        {
            _length = 0; // no levels any more: wait for a whole packet
        }
    }
}
