using System.Text;

namespace DmxProbe.Testing.Network.Packets;

/// <summary>Appends fields to a packet under construction; big endian unless the name says otherwise.</summary>
internal sealed class PacketBytes
{
    private readonly List<byte> _bytes = new(700);

    public int Count => _bytes.Count;

    public PacketBytes U8(int value)
    {
        _bytes.Add((byte)value);
        return this;
    }

    public PacketBytes U16(int value) => U8(value >> 8).U8(value & 0xFF);

    public PacketBytes U16LowFirst(int value) => U8(value & 0xFF).U8(value >> 8);

    public PacketBytes U32(long value) => U16((int)(value >> 16)).U16((int)(value & 0xFFFF));

    public PacketBytes Zeros(int count)
    {
        for (int i = 0; i < count; i++)
        {
            _bytes.Add(0);
        }

        return this;
    }

    public PacketBytes Raw(ReadOnlySpan<byte> bytes)
    {
        _bytes.AddRange(bytes);
        return this;
    }

    /// <summary>Text in UTF-8, filled with zeros to <paramref name="width"/> octets; at least one zero at the end.</summary>
    public PacketBytes Text(string text, int width)
    {
        byte[] utf8 = Encoding.UTF8.GetBytes(text);
        if (utf8.Length >= width)
        {
            throw new ArgumentException($"\"{text}\" does not fit {width} octets with its closing zero", nameof(text));
        }

        return Raw(utf8).Zeros(width - utf8.Length);
    }

    public byte[] ToArray() => [.. _bytes];
}
