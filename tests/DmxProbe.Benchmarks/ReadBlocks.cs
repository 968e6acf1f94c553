using Microsoft.Win32.SafeHandles;

namespace DmxProbe.Benchmarks;

/// <summary>The floor: a file read in blocks, nothing done with it.</summary>
internal static class ReadBlocks
{
    private const int BlockSize = 256 * 1024;

    /// <summary>Reads a file to its end.</summary>
    /// <returns>Octets read.</returns>
    public static long Run(string path)
    {
        using SafeFileHandle file = File.OpenHandle(path);
        byte[] block = new byte[BlockSize];
        long offset = 0;
        int read;
        while ((read = RandomAccess.Read(file, block, offset)) > 0)
        {
            offset += read;
        }

        return offset;
    }
}
