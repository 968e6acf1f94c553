using System.Globalization;
using System.IO.Compression;
using System.Text;

namespace DmxProbe.Testing.Lines;

/// <summary>Builds the session zip of a logic analyser in memory (standards-facts F2).</summary>
public sealed class SessionBytes
{
    /// <summary>Lines of the metadata after the section's name.</summary>
    public string Metadata { get; init; } = "capturefile=logic-1\ntotal probes=2\nsamplerate=1 MHz\ntotal analog=0\nprobe1=DMX+\nprobe2=DMX-\nunitsize=1\n";

    public string Version { get; init; } = "2";

    public CompressionLevel Level { get; init; } = CompressionLevel.Optimal;

    /// <summary>The archive with these members of samples, by name.</summary>
    public byte[] With(params (string Name, byte[] Samples)[] members)
    {
        using MemoryStream stream = new();
        Write(stream, members.Select(member => (member.Name, (IEnumerable<byte[]>)[member.Samples])));
        return stream.ToArray();
    }

    /// <summary>The archive with one piece of samples.</summary>
    public byte[] With(byte[] samples) => With(("logic-1-1", samples));

    /// <summary>Writes the archive; members are made while they are written.</summary>
    public void Write(Stream stream, IEnumerable<(string Name, IEnumerable<byte[]> Parts)> members)
    {
        using ZipArchive archive = new(stream, ZipArchiveMode.Create, leaveOpen: true);
        Add(archive, "version", [Encoding.ASCII.GetBytes(Version)]);
        Add(archive, "metadata", [Encoding.UTF8.GetBytes("[global]\nsigrok version=0.5.2\n\n[device 1]\n" + Metadata)]);
        foreach ((string name, IEnumerable<byte[]> parts) in members)
        {
            Add(archive, name, parts);
        }
    }

    /// <summary>Text of the metadata for so many lines at a rate.</summary>
    public static string Describe(long rate, int lines) =>
        string.Create(CultureInfo.InvariantCulture, $"capturefile=logic-1\ntotal probes={lines}\nsamplerate={rate}\nunitsize={(lines + 7) / 8}\n");

    private void Add(ZipArchive archive, string name, IEnumerable<byte[]> parts)
    {
        ZipArchiveEntry entry = archive.CreateEntry(name, Level);
        entry.LastWriteTime = new DateTimeOffset(2026, 3, 14, 0, 0, 0, TimeSpan.Zero);
        using Stream content = entry.Open();
        foreach (byte[] part in parts)
        {
            content.Write(part);
        }
    }
}
