using System.IO.Compression;
using System.Xml;

namespace DmxProbe.Fixtures.Tables;

/// <summary>
/// A zip file of unknown origin, read in memory: nothing is extracted to a name, an entry of a name inside is found by
/// exact comparison, and what is unpacked is counted as it comes, whatever the file claims (platform caps).
/// </summary>
internal sealed class BoundedZip : IDisposable
{
    /// <summary>Most entries.</summary>
    public const int MaxEntries = 1000;

    /// <summary>Most octets unpacked from one file, over all entries read.</summary>
    public const long MaxUnpacked = 256L * 1024 * 1024;

    /// <summary>Highest ratio of unpacked to packed octets, looked at once an entry is over <see cref="RatioFrom"/>.</summary>
    public const int MaxRatio = 200;

    private const long RatioFrom = 1024 * 1024;

    // The library reads the whole directory before it tells how long it is: what could be a directory of millions is not opened.
    private const int MaxDirectory = 100_000;
    private readonly ZipArchive _archive;
    private readonly long _packed;
    private readonly BoundedZip _root;
    private long _unpacked;

    private BoundedZip(ZipArchive archive, long packed, BoundedZip? outer)
    {
        _archive = archive;
        _packed = packed;
        _root = outer?._root ?? this;
    }

    /// <summary>Opens a zip file; null when it is none or has too many entries.</summary>
    /// <param name="octets">The whole file.</param>
    /// <param name="what">What it should be, with its article: <c>a spreadsheet</c>.</param>
    /// <param name="problem">Why not.</param>
    /// <param name="outer">The file it was an entry of: what is unpacked counts together.</param>
    public static BoundedZip? Open(byte[] octets, string what, out string problem, BoundedZip? outer = null)
    {
        problem = "";
        try
        {
            if (DirectoryEntries(octets) > MaxDirectory)
            {
                problem = $"more than {Shown.Number(MaxDirectory)} entries where {what} has at most {Shown.Number(MaxEntries)}";
                return null;
            }

            ZipArchive archive = new(new MemoryStream(octets, writable: false), ZipArchiveMode.Read);
            int count = archive.Entries.Count;
            if (count <= MaxEntries)
            {
                return new BoundedZip(archive, octets.Length, outer);
            }

            archive.Dispose();
            problem = $"{Shown.Number(count)} entries where {what} has at most {Shown.Number(MaxEntries)}";
        }
        catch (Exception broken) when (broken is InvalidDataException or IOException or ArgumentException or NotSupportedException or OverflowException)
        {
            problem = "a broken zip file";
        }

        return null;
    }

    /// <summary>Whether there is an entry of a name.</summary>
    public bool Has(string name) => Find(name) is not null;

    /// <summary>Opens an entry as XML without document types and without outside references; null when it is not there.</summary>
    /// <param name="name">Its name, in any case.</param>
    /// <param name="max">More octets are refused.</param>
    /// <exception cref="OverLimitException">While reading: what is unpacked passes a bound.</exception>
    public XmlReader? Xml(string name, long max = MaxUnpacked)
    {
        if (Find(name) is not ZipArchiveEntry entry)
        {
            return null;
        }

        return XmlReader.Create(Unpacked(entry, max), new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            CloseInput = true,
            MaxCharactersInDocument = MaxUnpacked,
        });
    }

    /// <summary>All octets of an entry; null when it is not there or longer than the bound.</summary>
    /// <exception cref="OverLimitException">What is unpacked passes a bound of the whole file.</exception>
    public byte[]? Octets(string name, int max)
    {
        if (Find(name) is not ZipArchiveEntry entry)
        {
            return null;
        }

        using Stream unpacked = Unpacked(entry, MaxUnpacked);
        return BoundedBytes.Read(unpacked, max);
    }

    /// <inheritdoc/>
    public void Dispose() => _archive.Dispose();

    /// <summary>At most how many entries the directory has: each starts with these four octets.</summary>
    private static int DirectoryEntries(ReadOnlySpan<byte> octets)
    {
        int count = 0;
        for (int at; count <= MaxDirectory && (at = octets.IndexOf("PK\u0001\u0002"u8)) >= 0; count++)
        {
            octets = octets[(at + 4)..];
        }

        return count;
    }

    private CountedStream Unpacked(ZipArchiveEntry entry, long max) => new(entry.Open(), (count, ofEntry) => Count(entry, count, ofEntry, max));

    private ZipArchiveEntry? Find(string name) => _archive.Entries.FirstOrDefault(entry => entry.FullName.Equals(name, StringComparison.OrdinalIgnoreCase));

    private void Count(ZipArchiveEntry entry, int count, long ofEntry, long max)
    {
        _root._unpacked += count;
        if (_root._unpacked > MaxUnpacked)
        {
            throw new OverLimitException($"more than {Shown.Number((int)(MaxUnpacked >> 20))} MB when unpacked");
        }

        if (ofEntry > max)
        {
            throw new OverLimitException($"a part of more than {Shown.Number((int)(max >> 20))} MB");
        }

        // The packed size is the file's own claim: at most the whole file can stand behind it.
        long packed = Math.Max(1, Math.Min(entry.CompressedLength, _packed));
        if (ofEntry > RatioFrom && ofEntry / packed > MaxRatio)
        {
            throw new OverLimitException($"a part that unpacks to more than {Shown.Number(MaxRatio)} times its size");
        }
    }

    /// <summary>Tells how much each read gave, and how much the entry gave so far.</summary>
    private sealed class CountedStream(Stream inner, Action<int, long> check) : Stream
    {
        private long _read;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position
        {
            get => _read;
            set => throw new NotSupportedException();
        }

        public override int Read(byte[] buffer, int offset, int count) => Counted(inner.Read(buffer, offset, count));

        public override int Read(Span<byte> buffer) => Counted(inner.Read(buffer));

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        protected override void Dispose(bool disposing)
        {
            if (disposing)
            {
                inner.Dispose();
            }

            base.Dispose(disposing);
        }

        private int Counted(int count)
        {
            _read += count;
            check(count, _read);
            return count;
        }
    }
}
