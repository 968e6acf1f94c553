using System.Buffers.Binary;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// The records of a pcapng file (draft-ietf-opsawg-pcapng). Made by <see cref="CaptureFileReader"/>. Block framing is
/// in <see cref="PcapngBlocks"/>; here the blocks become records.
/// </summary>
internal sealed class PcapngSource(ByteWindow window, CaptureDamage damage, string name) : ICaptureSource
{
    // Every section describes its interfaces again; a joined file of many sections still stays below this.
    private const int MostInterfaces = 65_536;

    private readonly PcapngBlocks _blocks = new(window, damage);
    private readonly List<CaptureInterface> _interfaces = [];
    private readonly List<PcapngInterface> _section = [];
    private long _number;
    private Timestamp _lastTime;

    private static class PacketField
    {
        public const int TicksHigh = 4;
        public const int TicksLow = 8;
        public const int Captured = 12;
        public const int Original = 16;
        public const int Data = 20;
    }

    public string Name { get; } = name;

    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

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
                    return EnhancedPacket(body, out record) ? ReadStatus.Record : End(out record);
                case PcapngFormat.SimplePacket:
                    return SimplePacket(body, out record) ? ReadStatus.Record : End(out record);
                case PcapngFormat.OldPacket:
                    return OldPacket(body, out record) ? ReadStatus.Record : End(out record);
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
                    _section.Clear();
                    break;
                default:
                    break; // names, secrets, custom, local use, unknown: nothing in them is a packet
            }
        }

        return End(out record);
    }

    public void Dispose() => window.Dispose();

    private ReadStatus End(out CaptureRecord record)
    {
        Problem ??= _blocks.Problem;
        window.Close();
        record = default;
        return ReadStatus.End;
    }

    private bool EnhancedPacket(ReadOnlySpan<byte> body, out CaptureRecord record)
    {
        if (body.Length < PacketField.Data)
        {
            return Short("an enhanced packet block", PacketField.Data, body, out record);
        }

        return Packet(body, UInt32(body), null, out record);
    }

    private bool OldPacket(ReadOnlySpan<byte> body, out CaptureRecord record)
    {
        if (body.Length < PacketField.Data)
        {
            return Short("a packet block", PacketField.Data, body, out record);
        }

        ushort drops = UInt16(body[2..]);
        return Packet(body, UInt16(body), drops == ushort.MaxValue ? (ushort)0 : drops, out record);
    }

    /// <summary>The part that enhanced and obsolete packet blocks have in common.</summary>
    private bool Packet(ReadOnlySpan<byte> body, uint interfaceNumber, ushort? drops, out CaptureRecord record)
    {
        if (!TryGetInterface(interfaceNumber, out PcapngInterface? origin)
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
        long lost = 0;
        if (drops is ushort count)
        {
            lost = count == 0 ? 0 : origin.AddLost(count);
        }
        else if (end < body.Length)
        {
            lost = DropCount(body[end..], origin);
        }

        _lastTime = time;
        record = new CaptureRecord
        {
            Number = ++_number,
            Time = time,
            InterfaceId = origin.Description.Id,
            LinkType = origin.Description.LinkType,
            OriginalLength = OriginalLength(captured, original),
            LostBefore = lost,
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
            Number = ++_number,
            Time = _lastTime,
            HasTime = false,
            InterfaceId = origin.Description.Id,
            LinkType = origin.Description.LinkType,
            OriginalLength = OriginalLength(captured, original),
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
        if (!TryGetInterface(UInt32(body), out PcapngInterface? origin) || !TryGetTime(origin, body, out Timestamp time))
        {
            return false;
        }

        // A packet is dropped by the interface or by the system, never by both: the two counts add up.
        ulong total = 0;
        PcapngOptions options = new(body[12..], _blocks.BigEndian);
        while (options.MoveNext())
        {
            if (options.Code is PcapngFormat.Option.StatisticsInterfaceDrop or PcapngFormat.Option.StatisticsSystemDrop
                && options.TryGetUInt64(out ulong count))
            {
                total = unchecked(total + count) < total ? ulong.MaxValue : total + count;
            }
        }

        long unreported = origin.SetTotalLost(total);
        if (unreported == 0)
        {
            return true;
        }

        lost = true;
        _lastTime = time;
        record = new CaptureRecord
        {
            Number = ++_number,
            Time = time,
            Kind = RecordKind.Loss,
            InterfaceId = origin.Description.Id,
            LinkType = origin.Description.LinkType,
            LostBefore = unreported,
        };
        return true;
    }

    private bool Describe(ReadOnlySpan<byte> body)
    {
        if (_interfaces.Count >= MostInterfaces)
        {
            return Wrong("there are too many interfaces", -8, "at most " + CaptureDamage.Number(MostInterfaces), "one more");
        }

        if (!PcapngInterfaceParser.TryParse(body, _blocks.BigEndian, _interfaces.Count, out PcapngInterface? parsed, out InterfaceFault fault))
        {
            return Wrong(fault.What, fault.Offset, fault.Expected, fault.Found);
        }

        _interfaces.Add(parsed.Description);
        _section.Add(parsed);
        return true;
    }

    private long DropCount(ReadOnlySpan<byte> optionBytes, PcapngInterface origin)
    {
        // Damaged options do not make the packet before them worse: they end the list.
        PcapngOptions options = new(optionBytes, _blocks.BigEndian);
        while (options.MoveNext())
        {
            if (options.Code == PcapngFormat.Option.PacketDropCount && options.TryGetUInt64(out ulong lost))
            {
                return origin.AddLost(lost);
            }
        }

        return 0;
    }

    private bool TryGetInterface(uint number, [System.Diagnostics.CodeAnalysis.NotNullWhen(true)] out PcapngInterface? origin)
    {
        if (number < (uint)_section.Count)
        {
            origin = _section[(int)number];
            return true;
        }

        origin = null;
        return Wrong(
            "it names an interface that the section does not describe",
            0,
            _section.Count == 0 ? "an interface description before it" : "at most interface " + CaptureDamage.Number(_section.Count - 1),
            "interface " + CaptureDamage.Number(number));
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
