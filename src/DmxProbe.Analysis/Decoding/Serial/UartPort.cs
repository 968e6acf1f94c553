using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Serial;

namespace DmxProbe.Analysis.Decoding.Serial;

/// <summary>
/// Packets from breaks and octets. A packet is given out with its 513th octet, a shorter one with the next break, at the time of the
/// record that brought its last octet. One whose start was missed, or in which characters were lost, is no packet.
/// </summary>
internal sealed class UartPort(UniverseId universe, string name) : SerialPortState(universe, name, "uart")
{
    private readonly byte[] _packet = new byte[LongestPacket];
    private int _count = -1; // -1 until a break: a packet whose start was missed is no packet
    private long _unplaced;
    private bool _isDamaged;
    private Timestamp _lastAt;
    private long _lastRecord;

    public override void Lost() => _count = -1;

    public override void Take(in CaptureRecord record, SerialOutput output)
    {
        if (!SerialRun.TryParse(record.Data, out SerialRun run))
        {
            output.Refuse(new(Protocols.Wire.WireErrorKind.Invalid, record.Data.Length, record.Data.Length - 1, record.Data.Length));
        }

        for (int i = 0; i < run.Count; i++)
        {
            SerialStatus status = run.Status(i);
            if ((status & SerialStatus.Overrun) != 0)
            {
                output.Event(in record, LinkEventKind.SerialOverrun, Math.Max(_count, 0));
                _count = -1;
            }

            if ((status & SerialStatus.Break) != 0)
            {
                Finish(in record, output);
                _count = 0;
                _isDamaged = false;
            }
            else if (_count < 0)
            {
                _unplaced++;
            }
            else
            {
                Put(in record, run[i], (status & SerialStatus.Error) != 0, output);
            }
        }

        if (_unplaced > 0)
        {
            output.Event(in record, LinkEventKind.SerialGarbage, _unplaced);
            _unplaced = 0;
        }
    }

    private void Put(in CaptureRecord record, byte value, bool isError, SerialOutput output)
    {
        if (isError)
        {
            output.Event(in record, LinkEventKind.SlotFramingError, Math.Min(_count, LongestPacket), value);
            _isDamaged = true;
        }

        _lastAt = record.Time;
        _lastRecord = record.Number;
        if (_count < LongestPacket)
        {
            _packet[_count] = value;
        }

        if (++_count == LongestPacket)
        {
            output.Packet(in record, _packet, _isDamaged);
        }
        else if (_count == int.MaxValue)
        {
            _count--;
        }
    }

    private void Finish(in CaptureRecord record, SerialOutput output)
    {
        if (_count == 0)
        {
            output.Event(in record, LinkEventKind.EmptyBreak);
        }
        else if (_count is > 0 and < LongestPacket)
        {
            output.Packet(_lastAt, _lastRecord, _packet.AsSpan(0, _count), _isDamaged);
        }
        else if (_count > LongestPacket)
        {
            output.Event(in record, LinkEventKind.SlotsOver512, _count - LongestPacket);
        }
    }
}
