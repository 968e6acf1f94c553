using System.Buffers.Binary;

namespace DmxProbe.Protocols.Rdm;

/// <summary>The data of a DEVICE_INFO answer: 19 octets (ANSI E1.20, known from secondary sources).</summary>
/// <param name="ModelId">Model number of the manufacturer.</param>
/// <param name="Category">Product category.</param>
/// <param name="SoftwareVersion">Software version number.</param>
/// <param name="Footprint">Slots it takes, 0 to 512; 0 = none.</param>
/// <param name="Personality">Its personality now, from 1.</param>
/// <param name="PersonalityCount">How many it has.</param>
/// <param name="StartAddress">Its DMX start address, 1 to 512; FFFFh where it has none.</param>
/// <param name="SubDeviceCount">Its sub-devices.</param>
public readonly record struct RdmDeviceInfo(
    int ModelId,
    int Category,
    uint SoftwareVersion,
    int Footprint,
    int Personality,
    int PersonalityCount,
    int StartAddress,
    int SubDeviceCount)
{
    /// <summary>Octets of the data.</summary>
    public const int Length = 19;

    /// <summary>What stands for "no start address".</summary>
    public const int NoAddress = 0xFFFF;

    /// <summary>Reads the data.</summary>
    /// <returns>False where they are not 19 octets.</returns>
    public static bool TryRead(ReadOnlySpan<byte> data, out RdmDeviceInfo info)
    {
        info = default;
        if (data.Length != Length)
        {
            return false;
        }

        info = new RdmDeviceInfo(
            BinaryPrimitives.ReadUInt16BigEndian(data[2..]),
            BinaryPrimitives.ReadUInt16BigEndian(data[4..]),
            BinaryPrimitives.ReadUInt32BigEndian(data[6..]),
            BinaryPrimitives.ReadUInt16BigEndian(data[10..]),
            data[12],
            data[13],
            BinaryPrimitives.ReadUInt16BigEndian(data[14..]),
            BinaryPrimitives.ReadUInt16BigEndian(data[16..]));
        return true;
    }
}
