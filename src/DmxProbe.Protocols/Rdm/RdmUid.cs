using System.Buffers.Binary;
using System.Globalization;

namespace DmxProbe.Protocols.Rdm;

/// <summary>
/// Unique ID of an RDM device: 16 bits of manufacturer, 32 bits of device (ANSI E1.20, known from secondary sources).
/// </summary>
/// <param name="Value">The 48 bits, manufacturer in the upper 16.</param>
public readonly record struct RdmUid(long Value)
{
    /// <summary>Octets of a UID.</summary>
    public const int Size = 6;

    private const long EveryDevice = 0xFFFFFFFF;

    /// <summary>Manufacturer ID, 0 to FFFFh.</summary>
    public int Manufacturer => (int)(Value >> 32);

    /// <summary>Device number of that manufacturer.</summary>
    public uint Device => (uint)(Value & EveryDevice);

    /// <summary>True where it names all devices, of one manufacturer or of every one: nobody answers but to discovery.</summary>
    public bool IsBroadcast => Device == EveryDevice;

    /// <summary>Reads a UID, most significant octet first.</summary>
    /// <param name="data">At least <see cref="Size"/> octets.</param>
    public static RdmUid Read(ReadOnlySpan<byte> data) =>
        new(((long)BinaryPrimitives.ReadUInt16BigEndian(data) << 32) | BinaryPrimitives.ReadUInt32BigEndian(data[2..]));

    /// <summary>Reads a UID as people write it: four hexadecimal digits, a colon, eight more; the colon may be missing.</summary>
    /// <param name="text">The text.</param>
    /// <param name="uid">The UID.</param>
    /// <returns>False where it is none.</returns>
    public static bool TryParse(ReadOnlySpan<char> text, out RdmUid uid)
    {
        const int digits = 12;
        const int maker = 4;
        uid = default;
        text = text.Trim();
        Span<char> plain = stackalloc char[digits];
        if (text.Length == digits + 1 && text[maker] == ':')
        {
            text[..maker].CopyTo(plain);
            text[(maker + 1)..].CopyTo(plain[maker..]);
        }
        else if (text.Length == digits)
        {
            text.CopyTo(plain);
        }
        else
        {
            return false;
        }

        bool isRead = long.TryParse(plain, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out long value);
        uid = new RdmUid(value);
        return isRead;
    }

    /// <summary>As people write it: <c>7FF0:12345678</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Manufacturer:X4}:{Device:X8}");
}
