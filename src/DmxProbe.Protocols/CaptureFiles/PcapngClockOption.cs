using System.Buffers.Binary;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// Our option of an Interface Description Block: what pcapng has no word for. Little endian in every section: signature
/// (8 octets), <see cref="StampedBy"/> (1) and 7 zeros, resolution in ns (8), snap length of the source (8).
/// </summary>
internal readonly record struct PcapngClockOption(StampedBy StampedBy, Duration Resolution, long SnapLength)
{
    /// <summary>Octets of the value.</summary>
    public const int Size = 32;

    /// <summary>Reads a value.</summary>
    /// <returns>False where it is not ours, or says what cannot be: then it is passed over like any unknown option.</returns>
    public static bool TryParse(ReadOnlySpan<byte> value, out PcapngClockOption option)
    {
        option = default;
        if (value.Length != Size || !value.StartsWith(PcapngFormat.Signature) || value[8] > (byte)StampedBy.SampleClock)
        {
            return false;
        }

        long resolution = BinaryPrimitives.ReadInt64LittleEndian(value[16..]);
        long snapLength = BinaryPrimitives.ReadInt64LittleEndian(value[24..]);
        option = new PcapngClockOption((StampedBy)value[8], Duration.FromNanoseconds(resolution), snapLength);
        return resolution >= 0 && snapLength >= 0;
    }

    /// <summary>Writes the value for an interface.</summary>
    public static void Write(Span<byte> target, CaptureInterface source)
    {
        target[..Size].Clear();
        PcapngFormat.Signature.CopyTo(target);
        target[8] = (byte)source.StampedBy;
        BinaryPrimitives.WriteInt64LittleEndian(target[16..], source.Resolution.Nanoseconds);
        BinaryPrimitives.WriteInt64LittleEndian(target[24..], source.SnapLength);
    }
}
