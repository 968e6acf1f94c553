using System.IO.Compression;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.CaptureFiles;

/// <summary>Everything a source gave until its end.</summary>
public sealed record CapturedFile(
    IReadOnlyList<CapturedRecord> Records, IReadOnlyList<CaptureInterface> Interfaces, InputProblem? Problem)
{
    /// <summary>Reads the octets of a capture file to the end.</summary>
    /// <exception cref="InputException">As <see cref="CaptureFileReader.Open(Stream, string)"/>.</exception>
    public static CapturedFile Read(byte[] file) => Read(new MemoryStream(file));

    /// <summary>Reads a stream to the end and closes it.</summary>
    public static CapturedFile Read(Stream stream)
    {
        using ICaptureSource source = CaptureFileReader.Open(stream, "test");
        return Read(source);
    }

    /// <summary>Reads a source to its end.</summary>
    public static CapturedFile Read(ICaptureSource source)
    {
        List<CapturedRecord> records = [];
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            records.Add(CapturedRecord.Of(in record));
        }

        InputProblem? problem = source.Problem;
        // The end is final: asking again neither throws nor changes the answer.
        if (source.Read(out _) != ReadStatus.End || !ReferenceEquals(problem, source.Problem))
        {
            throw new InvalidOperationException("a source came back to life after its end");
        }

        return new CapturedFile(records, source.Interfaces, problem);
    }

    /// <summary>Packs octets with gzip.</summary>
    public static byte[] Gzip(byte[] file)
    {
        using MemoryStream packed = new();
        using (GZipStream packer = new(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            packer.Write(file);
        }

        return packed.ToArray();
    }
}
