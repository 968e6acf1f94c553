using DmxProbe.Protocols.CaptureFiles.Lines;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// Opens capture files and line recordings: pcap, pcapng, VCD, CSV, and gzip of these, the session zip of a logic analyser,
/// raw samples. They are told apart by their first octets, never by name.
/// </summary>
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
    public static ICaptureSource Open(Stream stream, string name) => Open(stream, name, LineFileOptions.None);

    /// <summary>As <see cref="Open(Stream, string)"/>, with what a person says about a line recording.</summary>
    /// <param name="stream">The capture; a session zip needs one that can seek.</param>
    /// <param name="name">Name to print; untrusted text.</param>
    /// <param name="options">What the person says; unknown content becomes raw samples where a rate is given.</param>
    /// <returns>A source whose records are views into its buffer; an <see cref="ILineSource"/> for a line recording.</returns>
    /// <exception cref="InputException">The stream is empty, no capture, or cut inside its first header.</exception>
    public static ICaptureSource Open(Stream stream, string name, LineFileOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(name);
        long start = stream.CanSeek ? stream.Position : 0;
        ByteWindow window = new(stream);
        try
        {
            bool unpacked = IsGzip(window);
            if (unpacked)
            {
                byte[] head = window.Peek(window.Available).ToArray();
                window = new ByteWindow(new GzipInput(head, stream));
            }

            if (window.Has(4) && window.Peek(4).SequenceEqual("PK\x03\x04"u8) && !unpacked && stream.CanSeek)
            {
                return Started(SessionFile.Open(stream, start, name, options));
            }

            return OpenUnpacked(window, name, unpacked, options);
        }
        catch
        {
            window.Dispose();
            throw;
        }
    }

    private static bool IsGzip(ByteWindow window) => window.Has(2) && window.Peek(2) is [0x1F, 0x8B];

    private static ICaptureSource OpenUnpacked(ByteWindow window, string name, bool unpacked, LineFileOptions options)
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

        if (head is [(byte)'$' or (byte)' ' or (byte)'\r' or (byte)'\n' or (byte)'\t' or 0xEF, ..])
        {
            // A pipe may have brought no whole word yet.
            _ = window.Has(FileLook.HeadLength);
            head = window.Peek(Math.Min(window.Available, FileLook.HeadLength));
        }

        if (VcdHeader.IsVcd(head))
        {
            return Started(new VcdSource(window, VcdHeader.Read(window, new LineDamage(unpacked, 1), name), unpacked, name));
        }

        if (FileLook.IsText(head) && !head.IsEmpty)
        {
            _ = window.Has(CsvSource.Head);
            if (window.Available > 3 && window.Peek(3).SequenceEqual("\uFEFF"u8))
            {
                window.Skip(3);
            }

            ReadOnlySpan<byte> text = window.Peek(Math.Min(window.Available, CsvSource.Head));
            if (CsvLayout.Find(text, options, name) is CsvLayout layout)
            {
                return Started(new CsvSource(window, layout, unpacked, name));
            }
        }

        if (options.Rate is long rate && !head.IsEmpty)
        {
            return Started(new SampleSource(window, SampleLayout.Raw(rate, options.Bit), unpacked, name));
        }

        if (window.Failure is not null)
        {
            throw new InputException(name, damage.Unreadable(window, 0));
        }

        throw new InputException(name, head.IsEmpty ? Empty(unpacked) : Unknown(head, unpacked));
    }

    private static LineSource Started(LineSource source)
    {
        source.Start();
        return source;
    }

    private static InputProblem Empty(bool unpacked) => new(
        unpacked ? "the gzip file holds nothing" : "the file is empty", "", "", "", "check that the capture was saved");

    private static InputProblem Unknown(ReadOnlySpan<byte> head, bool unpacked)
    {
        string looks = FileLook.Describe(head, out bool packed);
        return new InputProblem(
            unpacked ? "the gzip file holds no capture" : "not a capture file",
            "byte 0" + (unpacked ? " of the unpacked data" : ""),
            "a pcap or pcapng file, a VCD or CSV recording of a line, or the session zip of a logic analyser",
            looks,
            Advice(looks, packed));
    }

    private static string Advice(string looks, bool packed) =>
        packed ? "unpack it first"
        : looks == "a zip archive" ? "the session zip of a logic analyser is read from a file only, not from a pipe and not packed again"
        : "give --rate if these are raw samples; see docs/formats.md";
}
