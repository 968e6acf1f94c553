using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Reads the body of an Interface Description Block.</summary>
internal static class PcapngInterfaceParser
{
    private const int FixedLength = 8;
    private const byte Microseconds = 6; // what if_tsresol means when it is absent

    // Names are untrusted; nothing needs more of one than this.
    private const int LongestName = 1024;

    /// <summary>Reads one.</summary>
    /// <param name="body">Body of the block.</param>
    /// <param name="bigEndian">Byte order of the section.</param>
    /// <param name="id">Number to give it, unique in the file.</param>
    /// <param name="parsed">The interface.</param>
    /// <param name="fault">Why there is none; its offset counts from the body.</param>
    public static bool TryParse(
        ReadOnlySpan<byte> body, bool bigEndian, int id, [NotNullWhen(true)] out PcapngInterface? parsed, out InterfaceFault fault)
    {
        parsed = null;
        if (body.Length < FixedLength)
        {
            fault = new InterfaceFault(
                "an interface description is too short", -4, "a body of at least 8 octets", CaptureDamage.Number(body.Length));
            return false;
        }

        ushort linkType = bigEndian ? BinaryPrimitives.ReadUInt16BigEndian(body) : BinaryPrimitives.ReadUInt16LittleEndian(body);
        uint snapLength = bigEndian ? BinaryPrimitives.ReadUInt32BigEndian(body[4..]) : BinaryPrimitives.ReadUInt32LittleEndian(body[4..]);
        string name = "";
        string description = "";
        byte resolution = Microseconds;
        long offset = 0;
        PcapngClockOption? told = null;
        PcapngOptions options = new(body[FixedLength..], bigEndian);
        while (options.MoveNext())
        {
            switch (options.Code)
            {
                case PcapngFormat.Option.InterfaceName:
                    name = Utf8Text.Decode(options.Value, LongestName);
                    break;
                case PcapngFormat.Option.InterfaceDescription:
                    description = Utf8Text.Decode(options.Value, LongestName);
                    break;
                case PcapngFormat.Option.InterfaceResolution:
                    if (options.Value.Length != 1)
                    {
                        fault = WrongLength("if_tsresol", 1, options.Value.Length);
                        return false;
                    }

                    resolution = options.Value[0];
                    break;
                case PcapngFormat.Option.InterfaceOffset:
                    if (!options.TryGetUInt64(out ulong seconds))
                    {
                        fault = WrongLength("if_tsoffset", 8, options.Value.Length);
                        return false;
                    }

                    offset = unchecked((long)seconds);
                    break;
                case PcapngFormat.Option.InterfaceClock:
                    told = PcapngClockOption.TryParse(options.Value, out PcapngClockOption ours) ? ours : told;
                    break;
                default:
                    break; // addresses, speeds, filters: nothing here depends on them
            }
        }

        if (options.IsDamaged)
        {
            fault = new InterfaceFault(
                "an option of an interface description is longer than its block", FixedLength, "options that end with the block", "more");
            return false;
        }

        if (!ClockScale.IsKnown(resolution))
        {
            fault = new InterfaceFault(
                "the clock of an interface is too fine", FixedLength, "if_tsresol up to 10^-19 or 2^-63", $"{resolution:X2}h");
            return false;
        }

        ClockScale clock = new(resolution, offset);
        CaptureInterface shown = new(id, name, description, (LinkType)linkType, snapLength, clock.Resolution, StampedBy.Unknown);
        if (told is PcapngClockOption option)
        {
            shown = shown with { Resolution = option.Resolution, StampedBy = option.StampedBy, SnapLength = option.SnapLength };
        }

        parsed = new PcapngInterface(shown, clock);
        fault = default;
        return true;
    }

    private static InterfaceFault WrongLength(string option, int expected, int found) => new(
        "option " + option + " has a wrong length", FixedLength, CaptureDamage.Octets(expected), CaptureDamage.Number(found));
}
