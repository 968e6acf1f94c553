using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// Our block that describes a channel: where marks, light readings, serial octets, line edges and packets that are not
/// Ethernet come in. The body is little endian in every section, so that a tool which turns a section round leaves it whole.
/// </summary>
internal static class PcapngChannelBlock
{
    /// <summary>Octets before the name.</summary>
    public const int FixedLength = 48;

    private const int LongestName = 1024;

    private static class Field
    {
        public const int Number = 8;
        public const int Content = 12;
        public const int StampedBy = 13;
        public const int LinkType = 16;
        public const int SnapLength = 20;
        public const int Resolution = 28;
        public const int TicksPerSecond = 36;
        public const int NameLength = 44;
        public const int DescriptionLength = 46;
    }

    /// <summary>Whether the body of a local-use block is ours.</summary>
    public static bool IsOurs(ReadOnlySpan<byte> body) => body.StartsWith(PcapngFormat.Signature);

    /// <summary>Reads one that is ours.</summary>
    /// <param name="body">Body of the block.</param>
    /// <param name="id">Number to give the interface, unique in the file.</param>
    /// <param name="number">Number that the channel must state.</param>
    /// <param name="channel">The channel.</param>
    /// <param name="fault">Why there is none; its offset counts from the body.</param>
    public static bool TryParse(
        ReadOnlySpan<byte> body, int id, int number, [NotNullWhen(true)] out CaptureInterface? channel, out InterfaceFault fault)
    {
        channel = null;
        fault = default;
        if (body.Length < FixedLength)
        {
            fault = new InterfaceFault(
                "a channel description is too short", -4, "a body of at least 48 octets", CaptureDamage.Number(body.Length));
            return false;
        }

        uint stated = BinaryPrimitives.ReadUInt32LittleEndian(body[Field.Number..]);
        int nameLength = BinaryPrimitives.ReadUInt16LittleEndian(body[Field.NameLength..]);
        int descriptionLength = BinaryPrimitives.ReadUInt16LittleEndian(body[Field.DescriptionLength..]);
        long snapLength = BinaryPrimitives.ReadInt64LittleEndian(body[Field.SnapLength..]);
        long resolution = BinaryPrimitives.ReadInt64LittleEndian(body[Field.Resolution..]);
        long ticks = BinaryPrimitives.ReadInt64LittleEndian(body[Field.TicksPerSecond..]);
        if (stated != number)
        {
            fault = new InterfaceFault(
                "a channel has a wrong number", Field.Number, CaptureDamage.Number(number), CaptureDamage.Number(stated));
        }
        else if (body[Field.Content] > (byte)InterfaceContent.Light || body[Field.StampedBy] > (byte)StampedBy.SampleClock)
        {
            fault = new InterfaceFault(
                "a channel of an unknown kind",
                Field.Content,
                "a kind up to 5, stamped by 0 to 4",
                $"{body[Field.Content]} and {body[Field.StampedBy]}");
        }
        else if (snapLength < 0 || resolution < 0 || ticks < 0)
        {
            fault = new InterfaceFault("a channel has a negative figure", Field.SnapLength, "0 or more", "less");
        }
        else if (FixedLength + nameLength + descriptionLength > body.Length)
        {
            fault = new InterfaceFault(
                "the names of a channel run past its block",
                Field.NameLength,
                "at most " + CaptureDamage.Octets(body.Length - FixedLength),
                CaptureDamage.Number(nameLength + descriptionLength));
        }
        else
        {
            channel = new CaptureInterface(
                id,
                Utf8Text.Decode(body.Slice(FixedLength, nameLength), LongestName),
                Utf8Text.Decode(body.Slice(FixedLength + nameLength, descriptionLength), LongestName),
                (LinkType)BinaryPrimitives.ReadInt32LittleEndian(body[Field.LinkType..]),
                snapLength,
                Duration.FromNanoseconds(resolution),
                (StampedBy)body[Field.StampedBy])
            {
                Content = (InterfaceContent)body[Field.Content],
                TicksPerSecond = ticks,
            };
        }

        return channel is not null;
    }

    /// <summary>Writes the body into an open block.</summary>
    public static void Write(PcapngBlockBuilder block, CaptureInterface channel, int number)
    {
        byte[] name = Name(channel.Name);
        byte[] description = Name(channel.Description);
        block.Put(PcapngFormat.Signature);
        block.PutUInt32((uint)number);
        block.Put([(byte)channel.Content, (byte)channel.StampedBy, 0, 0]);
        block.PutUInt32(unchecked((uint)(int)channel.LinkType));
        block.PutUInt64((ulong)channel.SnapLength);
        block.PutUInt64((ulong)channel.Resolution.Nanoseconds);
        block.PutUInt64((ulong)channel.TicksPerSecond);
        block.PutUInt16((ushort)name.Length);
        block.PutUInt16((ushort)description.Length);
        block.Put(name);
        block.Put(description);
        block.PutPadding();
    }

    private static byte[] Name(string text)
    {
        byte[] octets = Encoding.UTF8.GetBytes(text);
        return octets[..Utf8Text.CutLength(octets, LongestName)];
    }
}
