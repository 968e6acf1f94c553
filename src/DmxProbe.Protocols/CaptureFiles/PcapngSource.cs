using System.Buffers.Binary;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// The records of a pcapng file (draft-ietf-opsawg-pcapng). Made by <see cref="CaptureFileReader"/>. Block framing is
/// in <see cref="PcapngBlocks"/>; here the blocks become records.
/// </summary>
internal sealed class PcapngSource(ByteWindow window, CaptureDamage damage, string name) : ISeekableSource
{
    private readonly PcapngBlocks _blocks = new(window, damage);
    private readonly PcapngInterfaces _interfaces = new();
    private long _number;
    private Timestamp _lastTime;
    private Timestamp _timeBefore; // the last time before the record last read
    private bool _hasRecord;

    private static class PacketField
    {
        public const int TicksHigh = 4;
        public const int TicksLow = 8;
        public const int Captured = 12;
        public const int Original = 16;
        public const int Data = 20;
    }

    public string Name { get; } = name;

    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces.All;

    public InputProblem? Problem { get; private set; }

    /// <summary>Reads the first section header.</summary>
    /// <returns>What is wrong with it, or null.</returns>
    public InputProblem? Start()
    {
        _ = _blocks.TryNext(0, out _, out _);
        return _blocks.Problem;
    }

    public ReadStatus Read(out CaptureRecord record)
    {
        while (_blocks.TryNext(_number, out uint type, out ReadOnlySpan<byte> body))
        {
            switch (type)
            {
                case PcapngFormat.EnhancedPacket:
                case PcapngFormat.OldPacket:
                    return Packet(body, isOld: type == PcapngFormat.OldPacket, out record) ? ReadStatus.Record : End(out record);
                case PcapngFormat.SimplePacket:
                    return SimplePacket(body, out record) ? ReadStatus.Record : End(out record);
                case PcapngFormat.InterfaceStatistics:
                    if (!Statistics(body, out bool lost, out record))
                    {
                        return End(out record);
                    }

                    if (lost)
                    {
                        return ReadStatus.Record;
                    }

                    break;
                case PcapngFormat.InterfaceDescription:
                    if (!Describe(body))
                    {
                        return End(out record);
                    }

                    break;
                case PcapngFormat.SectionHeader:
                    _interfaces.BeginSection();
                    break;
                case PcapngFormat.Channel when PcapngChannelBlock.IsOurs(body):
                    if (!DescribeChannel(body))
                    {
                        return End(out record);
                    }

                    break;
                case PcapngFormat.ChannelRecord when PcapngChannelBlock.IsOurs(body):
                    return ChannelRecord(body, out record) ? ReadStatus.Record : End(out record);
                default:
                    break; // names, secrets, custom, local use, unknown: nothing in them is a packet
            }
        }

        return End(out record);
    }

    public bool TryMark(out CapturePosition position)
    {
        position = default;
        if (!_hasRecord || !window.CanSeek || !_interfaces.TryKeep(_blocks.BigEndian, out PcapngState? state))
        {
            return false;
        }

        position = new CapturePosition
        {
            Offset = _blocks.BodyPosition - PcapngFormat.HeaderLength,
            Number = _number,
            TimeBefore = _timeBefore,
            State = state,
        };
        return true;
    }

    public void Seek(CapturePosition position)
    {
        PcapngState? state = position.State as PcapngState;
        CaptureMark.Check(window, position, isOfThisKind: state is not null);
        _blocks.Seek(position.Offset, state!.BigEndian);
        _interfaces.GoTo(state);
        _number = position.Number - 1;
        _lastTime = position.TimeBefore;
        _hasRecord = false;
        Problem = CaptureMark.Missing(window, damage, _number);
    }

    public void Dispose() => window.Dispose();

    private ReadStatus End(out CaptureRecord record)
    {
        Problem ??= _blocks.Problem;
        window.Close();
        _hasRecord = false;
        record = default;
        return ReadStatus.End;
    }

    private bool Packet(ReadOnlySpan<byte> body, bool isOld, out CaptureRecord record)
    {
        if (body.Length < PacketField.Data)
        {
            return Short(isOld ? "a packet block" : "an enhanced packet block", PacketField.Data, body, out record);
        }

        if (!TryGetInterface(isOld ? UInt16(body) : UInt32(body), out PcapngInterface? origin)
            || !TryGetTime(origin, body, out Timestamp time))
        {
            record = default;
            return false;
        }

        uint captured = UInt32(body[PacketField.Captured..]);
        uint original = UInt32(body[PacketField.Original..]);
        if (captured > (uint)(body.Length - PacketField.Data))
        {
            record = default;
            return Wrong(
                "its packet is longer than its block",
                PacketField.Captured,
                "at most " + CaptureDamage.Octets(body.Length - PacketField.Data),
                CaptureDamage.Number(captured));
        }

        int end = PacketField.Data + PcapngFormat.Padded((int)captured);
        ulong lost = isOld ? PcapngDrops.BeforeOldPacket(UInt16(body[2..]))
            : end < body.Length ? PcapngDrops.BeforePacket(new PcapngOptions(body[end..], _blocks.BigEndian))
            : 0;
        record = new CaptureRecord
        {
            Number = NextNumber(time),
            Time = time,
            InterfaceId = origin.Description.Id,
            LinkType = origin.Description.LinkType,
            OriginalLength = OriginalLength(captured, original),
            LostBefore = _interfaces.AddLost(origin, lost),
            Data = body.Slice(PacketField.Data, (int)captured),
        };
        return true;
    }

    private bool SimplePacket(ReadOnlySpan<byte> body, out CaptureRecord record)
    {
        if (body.Length < 4)
        {
            return Short("a simple packet block", 4, body, out record);
        }

        record = default;
        if (!TryGetInterface(0, out PcapngInterface? origin))
        {
            return false;
        }

        uint original = UInt32(body);
        long snapLength = origin.Description.SnapLength;
        uint captured = snapLength == 0 ? original : (uint)Math.Min(snapLength, original);
        if (captured > (uint)(body.Length - 4))
        {
            return Wrong(
                "its packet is longer than its block",
                0,
                "at most " + CaptureDamage.Octets(body.Length - 4),
                CaptureDamage.Number(captured));
        }

        record = new CaptureRecord
        {
            Number = NextNumber(_lastTime),
            Time = _lastTime,
            HasTime = false,
            InterfaceId = origin.Description.Id,
            LinkType = origin.Description.LinkType,
            OriginalLength = OriginalLength(captured, original),
            LostBefore = _interfaces.AddLost(origin, 0),
            Data = body.Slice(4, (int)captured),
        };
        return true;
    }

    private bool Statistics(ReadOnlySpan<byte> body, out bool lost, out CaptureRecord record)
    {
        lost = false;
        if (body.Length < 12)
        {
            return Short("an interface statistics block", 12, body, out record);
        }

        record = default;
        if (!TryGetInterface(UInt32(body), out PcapngInterface? origin))
        {
            return false;
        }

        long unreported = _interfaces.SetTotalLost(
            origin, PcapngDrops.SinceStart(new PcapngOptions(body[12..], _blocks.BigEndian)));
        if (unreported == 0)
        {
            return true;
        }

        if (!TryGetTime(origin, body, out Timestamp time))
        {
            return false;
        }

        lost = true;
        record = new CaptureRecord
        {
            Number = NextNumber(time),
            Time = time,
            Kind = RecordKind.Loss,
            InterfaceId = origin.Description.Id,
            LinkType = origin.Description.LinkType,
            LostBefore = unreported,
        };
        return true;
    }

    private bool Describe(ReadOnlySpan<byte> body) =>
        _interfaces.TryDescribe(body, _blocks.BigEndian, out InterfaceFault fault)
        || Wrong(fault.What, fault.Offset, fault.Expected, fault.Found);

    private bool DescribeChannel(ReadOnlySpan<byte> body) =>
        _interfaces.TryDescribeChannel(body, out InterfaceFault fault)
        || Wrong(fault.What, fault.Offset, fault.Expected, fault.Found);

    private bool ChannelRecord(ReadOnlySpan<byte> body, out CaptureRecord record)
    {
        record = default;
        if (!PcapngChannelRecord.TryParse(body, _interfaces, out PcapngChannelRecord block, out InterfaceFault fault))
        {
            return Wrong(fault.What, fault.Offset, fault.Expected, fault.Found);
        }

        _interfaces.ChannelRecordRead();
        record = new CaptureRecord
        {
            Number = NextNumber(block.Time),
            Time = block.Time,
            HasTime = block.HasTime,
            Kind = block.Kind,
            InterfaceId = block.Channel.Id,
            LinkType = block.Channel.LinkType,
            OriginalLength = block.OriginalLength,
            LostBefore = block.LostBefore,
            Data = block.Data,
        };
        return true;
    }

    private bool TryGetInterface(uint number, [System.Diagnostics.CodeAnalysis.NotNullWhen(true)] out PcapngInterface? origin)
    {
        if (_interfaces.TryGet(number, out origin))
        {
            return true;
        }

        int count = _interfaces.SectionCount;
        return Wrong(
            "it names an interface that the section does not describe",
            0,
            count == 0 ? "an interface description before it" : "at most interface " + CaptureDamage.Number(count - 1),
            "interface " + CaptureDamage.Number(number));
    }

    private long NextNumber(Timestamp time)
    {
        _timeBefore = _lastTime;
        _lastTime = time;
        _hasRecord = true;
        return ++_number;
    }

    private bool TryGetTime(PcapngInterface origin, ReadOnlySpan<byte> body, out Timestamp time)
    {
        ulong ticks = ((ulong)UInt32(body[PacketField.TicksHigh..]) << 32) | UInt32(body[PacketField.TicksLow..]);
        return origin.Clock.TryGetTime(ticks, out time)
            || Wrong("its time is out of range", PacketField.TicksHigh, "a time between the years 1678 and 2262", $"{ticks} units");
    }

    private bool Short(string what, int expected, ReadOnlySpan<byte> body, out CaptureRecord record)
    {
        record = default;
        return Wrong(what + " is too short", -4, "a body of at least " + CaptureDamage.Octets(expected), CaptureDamage.Number(body.Length));
    }

    /// <summary>Notes what is wrong with the current block; <paramref name="offset"/> counts from its body.</summary>
    private bool Wrong(string what, int offset, string expected, string found)
    {
        Problem ??= damage.Wrong(
            "a pcapng block is damaged (" + what + ")", _blocks.BodyPosition + offset, expected, found, _number);
        return false;
    }

    // The framing holds, so a wrong original length does no harm: what was captured was on the wire.
    private static int OriginalLength(uint captured, uint original) => (int)Math.Min(Math.Max(captured, original), int.MaxValue);

    private ushort UInt16(ReadOnlySpan<byte> data) =>
        _blocks.BigEndian ? BinaryPrimitives.ReadUInt16BigEndian(data) : BinaryPrimitives.ReadUInt16LittleEndian(data);

    private uint UInt32(ReadOnlySpan<byte> data) =>
        _blocks.BigEndian ? BinaryPrimitives.ReadUInt32BigEndian(data) : BinaryPrimitives.ReadUInt32LittleEndian(data);
}
