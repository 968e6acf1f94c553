using System.Buffers.Binary;
using System.IO.Compression;

namespace DmxProbe.Reporting.Pictures;

/// <summary>A picture of red, green and blue bytes: boxes and numbers can be drawn on it, and it is written as PNG (ISO/IEC 15948).</summary>
public sealed class PngPicture
{
    // Digits of 3 x 5 dots, a row of three bits each from the top.
    private static readonly int[] Digits = [0b111101101101111, 0b010110010010111, 0b111001111100111, 0b111001111001111, 0b101101111001001, 0b111100111001111, 0b111100111101111, 0b111001010010010, 0b111101111101111, 0b111101111001111];
    private readonly byte[] _pixels;

    /// <summary>Takes a copy of the pixels.</summary>
    /// <param name="width">Pixels across, at least 1.</param>
    /// <param name="height">Pixels down, at least 1.</param>
    /// <param name="pixels">Red, green, blue of each pixel, row by row.</param>
    public PngPicture(int width, int height, ReadOnlySpan<byte> pixels)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(width, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(height, 1);
        if (pixels.Length != 3 * width * height)
        {
            throw new ArgumentException("three bytes for each pixel", nameof(pixels));
        }

        Width = width;
        Height = height;
        _pixels = pixels.ToArray();
    }

    /// <summary>Pixels across.</summary>
    public int Width { get; }

    /// <summary>Pixels down.</summary>
    public int Height { get; }

    /// <summary>Draws a rectangle just around the given pixels, white within black, so that it shows on any ground.</summary>
    public void Frame(int x, int y, int width, int height)
    {
        Outline(x - 2, y - 2, width + 4, height + 4, 0);
        Outline(x - 1, y - 1, width + 2, height + 2, 255);
    }

    /// <summary>Writes a digit, 10 pixels high, white on black.</summary>
    public void Digit(int digit, int x, int y)
    {
        int dots = Digits[digit % 10];
        for (int dy = -1; dy < 11; dy++)
        {
            for (int dx = -1; dx < 7; dx++)
            {
                bool lit = dx is >= 0 and < 6 && dy is >= 0 and < 10 && (dots >> (14 - (dy / 2 * 3) - (dx / 2)) & 1) == 1;
                Dot(x + dx, y + dy, lit ? (byte)255 : (byte)0);
            }
        }
    }

    /// <summary>Writes it as PNG.</summary>
    /// <param name="output">Where to; left open.</param>
    public void Write(Stream output)
    {
        ArgumentNullException.ThrowIfNull(output);
        output.Write([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
        byte[] header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, Width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), Height);
        header[8] = 8; // bits a sample
        header[9] = 2; // truecolour
        Chunk(output, "IHDR"u8, header);
        using MemoryStream packed = new();
        using (ZLibStream zlib = new(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            for (int y = 0; y < Height; y++)
            {
                zlib.WriteByte(0); // filter: none
                zlib.Write(_pixels, 3 * Width * y, 3 * Width);
            }
        }

        Chunk(output, "IDAT"u8, packed.ToArray());
        Chunk(output, "IEND"u8, []);
    }

    private void Outline(int x, int y, int width, int height, byte grey)
    {
        for (int i = 0; i < width; i++)
        {
            Dot(x + i, y, grey);
            Dot(x + i, y + height - 1, grey);
        }

        for (int i = 0; i < height; i++)
        {
            Dot(x, y + i, grey);
            Dot(x + width - 1, y + i, grey);
        }
    }

    private void Dot(int x, int y, byte grey)
    {
        if (x >= 0 && y >= 0 && x < Width && y < Height)
        {
            _pixels.AsSpan(3 * ((y * Width) + x), 3).Fill(grey);
        }
    }

    private static void Chunk(Stream output, ReadOnlySpan<byte> type, ReadOnlySpan<byte> data)
    {
        byte[] chunk = new byte[12 + data.Length];
        BinaryPrimitives.WriteInt32BigEndian(chunk, data.Length);
        type.CopyTo(chunk.AsSpan(4));
        data.CopyTo(chunk.AsSpan(8));
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(8 + data.Length), Checksum(chunk.AsSpan(4, 4 + data.Length)));
        output.Write(chunk);
    }

    // CRC-32 as PNG wants it: reflected polynomial 0xEDB88320.
    private static uint Checksum(ReadOnlySpan<byte> data)
    {
        uint sum = 0xFFFFFFFF;
        foreach (byte value in data)
        {
            sum ^= value;
            for (int bit = 0; bit < 8; bit++)
            {
                sum = (sum & 1) == 1 ? (sum >> 1) ^ 0xEDB88320 : sum >> 1;
            }
        }

        return ~sum;
    }
}
