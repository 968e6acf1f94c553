using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Opens capture files: pcap, pcapng, and gzip of either, told apart by their first octets, never by name.</summary>
public static class CaptureFileReader
{
    /// <summary>
    /// Starts reading a capture. The stream is read from where it stands in blocks of 256 KiB, without seeking unless
    /// it can, and is closed with the source or when opening fails.
    /// </summary>
    /// <param name="stream">The capture; a FileStream should be made with a buffer size of 0.</param>
    /// <param name="name">Name to print; untrusted text.</param>
    /// <returns>A source whose records are views into its buffer.</returns>
    /// <exception cref="InputException">The stream is empty, no capture, or cut inside its first header.</exception>
    public static ICaptureSource Open(Stream stream, string name)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(name);
        ByteWindow window = new(stream);
        try
        {
            bool unpacked = IsGzip(window);
            if (unpacked)
            {
                byte[] head = window.Peek(window.Available).ToArray();
                window = new ByteWindow(new GzipInput(head, stream));
            }

            return OpenUnpacked(window, name, unpacked);
        }
        catch
        {
            window.Dispose();
            throw;
        }
    }

    private static bool IsGzip(ByteWindow window) => window.Has(2) && window.Peek(2) is [0x1F, 0x8B];

    private static ICaptureSource OpenUnpacked(ByteWindow window, string name, bool unpacked)
    {
        CaptureDamage damage = new(unpacked);
        _ = window.Has(4);
        ReadOnlySpan<byte> head = window.Peek(Math.Min(window.Available, FileLook.HeadLength));
        if (PcapHeader.IsPcap(head))
        {
            return new PcapSource(window, PcapHeader.Read(window, damage, name), damage, name);
        }

        if (head is [0x0A, 0x0D, 0x0D, 0x0A, ..])
        {
            PcapngSource source = new(window, damage, name);
            return source.Start() is InputProblem problem ? throw new InputException(name, problem) : source;
        }

        if (window.Failure is not null)
        {
            throw new InputException(name, damage.Unreadable(window, 0));
        }

        throw new InputException(name, head.IsEmpty ? Empty(unpacked) : Unknown(head, unpacked));
    }

    private static InputProblem Empty(bool unpacked) => new(
        unpacked ? "the gzip file holds nothing" : "the file is empty", "", "", "", "check that the capture was saved");

    private static InputProblem Unknown(ReadOnlySpan<byte> head, bool unpacked)
    {
        string looks = FileLook.Describe(head, out bool packed);
        return new InputProblem(
            unpacked ? "the gzip file holds no capture" : "not a capture file",
            "byte 0" + (unpacked ? " of the unpacked data" : ""),
            "the start of a pcap or pcapng file",
            looks,
            packed ? "unpack it first" : "this version reads network captures only, saved as pcapng or pcap");
    }
}
