using System.Buffers.Binary;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Our block that holds one record of a channel; what kind of record follows from the channel. Little endian in every section.</summary>
internal readonly ref struct PcapngChannelRecord
{
    /// <summary>Octets before the record's bytes.</summary>
    public const int FixedLength = 36;

    private const uint NoTime = 1;
    private const uint IsLoss = 2;
    private const int LongestMark = 1024;

    private static class Field
    {
        public const int Channel = 8;
        public const int Flags = 12;
        public const int Time = 16;
        public const int LostBefore = 24;
        public const int OriginalLength = 28;
        public const int DataLength = 32;
    }

    /// <summary>The channel it came in by.</summary>
    public required CaptureInterface Channel { get; init; }

    /// <summary>When; see <see cref="CaptureRecord.Time"/>.</summary>
    public required Timestamp Time { get; init; }

    /// <summary>Whether it has a time of its own.</summary>
    public required bool HasTime { get; init; }

    /// <summary>What it holds.</summary>
    public required RecordKind Kind { get; init; }

    /// <summary>Octets on the wire.</summary>
    public required int OriginalLength { get; init; }

    /// <summary>Records lost before it.</summary>
    public required long LostBefore { get; init; }

    /// <summary>The bytes.</summary>
    public required ReadOnlySpan<byte> Data { get; init; }

    /// <summary>Reads the body of a block that is ours.</summary>
    public static bool TryParse(
        ReadOnlySpan<byte> body, PcapngInterfaces interfaces, out PcapngChannelRecord record, out InterfaceFault fault)
    {
        record = default;
        fault = default;
        if (body.Length < FixedLength)
        {
            fault = new InterfaceFault(
                "a record of a channel is too short", -4, "a body of at least 36 octets", CaptureDamage.Number(body.Length));
            return false;
        }

        uint number = BinaryPrimitives.ReadUInt32LittleEndian(body[Field.Channel..]);
        if (!interfaces.TryGetChannel(number, out CaptureInterface? channel))
        {
            fault = new InterfaceFault(
                "it names a channel that the section does not describe",
                Field.Channel,
                interfaces.ChannelCount == 0 ? "a channel description before it" : "at most channel " + CaptureDamage.Number(interfaces.ChannelCount - 1),
                "channel " + CaptureDamage.Number(number));
            return false;
        }

        uint flags = BinaryPrimitives.ReadUInt32LittleEndian(body[Field.Flags..]);
        uint length = BinaryPrimitives.ReadUInt32LittleEndian(body[Field.DataLength..]);
        uint original = BinaryPrimitives.ReadUInt32LittleEndian(body[Field.OriginalLength..]);
        int most = body.Length - FixedLength;
        most = channel.Content == InterfaceContent.Marks ? Math.Min(most, LongestMark) : most;
        most = (flags & IsLoss) != 0 ? 0 : most;
        if (length > (uint)most)
        {
            fault = new InterfaceFault(
                "its record is too long", Field.DataLength, "at most " + CaptureDamage.Octets(most), CaptureDamage.Number(length));
            return false;
        }

        record = new PcapngChannelRecord
        {
            Channel = channel,
            Time = Timestamp.FromUnixNanoseconds(BinaryPrimitives.ReadInt64LittleEndian(body[Field.Time..])),
            HasTime = (flags & NoTime) == 0,
            Kind = (flags & IsLoss) != 0 ? RecordKind.Loss : KindOf(channel.Content),
            OriginalLength = (int)Math.Min(original, int.MaxValue),
            LostBefore = BinaryPrimitives.ReadUInt32LittleEndian(body[Field.LostBefore..]),
            Data = body.Slice(FixedLength, (int)length),
        };
        return true;
    }

    /// <summary>Writes the body into an open block.</summary>
    public static void Write(PcapngBlockBuilder block, int channel, in CaptureRecord record)
    {
        block.Put(PcapngFormat.Signature);
        block.PutUInt32((uint)channel);
        block.PutUInt32((record.HasTime ? 0 : NoTime) | (record.Kind == RecordKind.Loss ? IsLoss : 0));
        block.PutUInt64(unchecked((ulong)record.Time.UnixNanoseconds));
        block.PutUInt32((uint)Math.Clamp(record.LostBefore, 0, uint.MaxValue));
        block.PutUInt32((uint)Math.Max(record.OriginalLength, 0));
        block.PutUInt32((uint)record.Data.Length);
        block.PutPadded(record.Data);
    }

    private static RecordKind KindOf(InterfaceContent content) => content switch
    {
        InterfaceContent.Line => RecordKind.Edges,
        InterfaceContent.SerialUart or InterfaceContent.SerialFramed => RecordKind.Serial,
        InterfaceContent.Marks => RecordKind.Mark,
        InterfaceContent.Light => RecordKind.Light,
        _ => RecordKind.Packet,
    };
}
