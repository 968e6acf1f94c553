using System.Buffers.Binary;
using System.IO.Compression;

using DmxProbe.Reporting.Pictures;

namespace DmxProbe.Reporting.Tests.Pictures;

/// <summary>PNG files, taken apart by the layout of ISO/IEC 15948.</summary>
public class PngPictureTests
{
    [Fact]
    public void The_file_holds_the_pixels_and_ends_as_the_standard_says()
    {
        byte[] pixels = [.. Enumerable.Range(0, 3 * 5 * 4).Select(i => (byte)(4 * i))];
        PngPicture picture = new(5, 4, pixels);
        using MemoryStream file = new();
        picture.Write(file);
        byte[] bytes = file.ToArray();

        Assert.Equal([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], bytes[..8]);

        // The empty IEND chunk and its checksum are the same in every PNG.
        Assert.Equal([0, 0, 0, 0, 0x49, 0x45, 0x4E, 0x44, 0xAE, 0x42, 0x60, 0x82], bytes[^12..]);
        Assert.Equal((5, 4), (BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(16)), BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(20))));
        int length = BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(33));
        using ZLibStream rows = new(new MemoryStream(bytes, 41, length), CompressionMode.Decompress);
        byte[] unpacked = new byte[4 * 16];
        rows.ReadExactly(unpacked);
        Assert.Equal(-1, rows.ReadByte());
        Assert.Equal(pixels, Enumerable.Range(0, 4).SelectMany(y => unpacked[((16 * y) + 1)..(16 * (y + 1))]));
    }

    [Fact]
    public void Frames_and_digits_may_reach_beyond_the_edge()
    {
        PngPicture picture = new(8, 8, new byte[3 * 64]);
        picture.Frame(-5, -5, 30, 30);
        picture.Frame(2, 2, 4, 4);
        picture.Digit(9, -3, 6);
        using MemoryStream file = new();
        picture.Write(file);
        Assert.True(file.Length > 60);
        Assert.Throws<ArgumentException>(() => new PngPicture(2, 2, new byte[11]));
    }
}
