using System.Buffers.Binary;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// What is where in a segment: a file beside it (docs/formats.md) that only saves time. One that is missing, of another
/// length of the segment, damaged or untrue is made again from the segment.
/// </summary>
public sealed class SegmentIndex
{
    /// <summary>Added to the name of the segment.</summary>
    public const string Suffix = ".index";

    /// <summary>Most entries of an index, the last record's not counted.</summary>
    public const int MostEntries = 4_096;

    private const int HeaderLength = 56;
    private const int EntryLength = 24;
    private const int LongestFile = HeaderLength + ((MostEntries + 1) * EntryLength);
    private const uint EnhancedPacket = 6;
    private const uint InterfaceStatistics = 5;
    private const uint ChannelRecord = 0x80445802;

    internal SegmentIndex(
        long segmentLength, long records, long marks, long lost, Timestamp latest, IReadOnlyList<IndexEntry> entries)
    {
        SegmentLength = segmentLength;
        Records = records;
        Marks = marks;
        Lost = lost;
        Latest = latest;
        Entries = entries;
    }

    /// <summary>Octets of the segment that it describes.</summary>
    public long SegmentLength { get; }

    /// <summary>Records in it.</summary>
    public long Records { get; }

    /// <summary>Marks among them.</summary>
    public long Marks { get; }

    /// <summary>Records that it says were lost while recording.</summary>
    public long Lost { get; }

    /// <summary>Latest time of a record.</summary>
    public Timestamp Latest { get; }

    /// <summary>The first record, one about every second (fewer in a long segment), and the last record.</summary>
    public IReadOnlyList<IndexEntry> Entries { get; }

    private static ReadOnlySpan<byte> Magic => "DmxPrIx1"u8;

    /// <summary>The last entry not later than a time; null where the segment begins later.</summary>
    public IndexEntry? Find(Timestamp time)
    {
        IndexEntry? found = null;
        foreach (IndexEntry entry in Entries)
        {
            if (entry.Time > time)
            {
                break;
            }

            found = entry;
        }

        return found;
    }

    /// <summary>The index of a segment: the file beside it if that is true, else made from the segment and put there.</summary>
    /// <param name="segment">Path of the segment.</param>
    /// <param name="madeAnew">Whether it had to be made.</param>
    /// <exception cref="InputException">The segment cannot be opened.</exception>
    public static SegmentIndex Of(string segment, out bool madeAnew)
    {
        madeAnew = false;
        if (TryLoad(segment) is SegmentIndex index)
        {
            return index;
        }

        madeAnew = true;
        index = Make(segment);
        try
        {
            index.Save(segment);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // A folder that may not be written to: it is made again next time.
        }

        return index;
    }

    /// <summary>Makes the index from the segment alone.</summary>
    /// <exception cref="InputException">The segment cannot be opened.</exception>
    public static SegmentIndex Make(string segment)
    {
        IndexBuilder builder = new();
        long length = new FileInfo(segment) is { Exists: true } file ? file.Length : 0;
        using ICaptureSource source = CaptureFile.OpenFile(segment, LineFileOptions.None);
        ISeekableSource? seekable = source as ISeekableSource;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            CapturePosition position = default;
            _ = seekable?.TryMark(out position);
            builder.Add(record.Time, position.Offset, record.Kind, record.LostBefore);
        }

        return builder.Build(length);
    }

    /// <summary>Reads the file beside a segment.</summary>
    /// <returns>Null where there is none, or where what it says is not so.</returns>
    public static SegmentIndex? TryLoad(string segment)
    {
        try
        {
            FileInfo file = new(segment + Suffix);
            if (!file.Exists || file.LinkTarget is not null || file.Length > LongestFile)
            {
                return null;
            }

            // Read through a bound: the file may grow between the look and the reading.
            byte[] bytes = new byte[file.Length];
            using FileStream stream = file.OpenRead();
            stream.ReadExactly(bytes);
            return Parse(bytes) is SegmentIndex index && index.Holds(segment) ? index : null;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>Takes the bytes of an index apart; says nothing about whether they are true of a segment.</summary>
    /// <returns>Null where they contradict themselves.</returns>
    public static SegmentIndex? Parse(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < HeaderLength || !bytes.StartsWith(Magic))
        {
            return null;
        }

        long length = Int64(bytes, 8);
        long records = Int64(bytes, 16);
        long marks = Int64(bytes, 24);
        long lost = Int64(bytes, 32);
        Timestamp latest = Timestamp.FromUnixNanoseconds(Int64(bytes, 40));
        long count = Int64(bytes, 48);
        if (length < 0 || lost < 0 || marks < 0 || marks > records || count < 0 || count > MostEntries + 1 || count > records
            || (count == 0 && records != 0) || bytes.Length != HeaderLength + (count * EntryLength))
        {
            return null;
        }

        List<IndexEntry> entries = new((int)count);
        IndexEntry before = new(Timestamp.MinValue, -1, 0);
        for (int at = HeaderLength; at < bytes.Length; at += EntryLength)
        {
            IndexEntry entry = new(Timestamp.FromUnixNanoseconds(Int64(bytes, at)), Int64(bytes, at + 8), Int64(bytes, at + 16));
            if (entry.Offset <= before.Offset || entry.Offset >= length || entry.Number <= before.Number || entry.Time > latest)
            {
                return null;
            }

            entries.Add(entry);
            before = entry;
        }

        return before.Number == records && (count == 0 || entries[0].Number == 1)
            ? new SegmentIndex(length, records, marks, lost, latest, entries)
            : null;
    }

    /// <summary>Puts the index beside its segment, at once or not at all.</summary>
    public void Save(string segment)
    {
        byte[] bytes = new byte[HeaderLength + (Entries.Count * EntryLength)];
        Magic.CopyTo(bytes);
        Put(bytes, 8, SegmentLength);
        Put(bytes, 16, Records);
        Put(bytes, 24, Marks);
        Put(bytes, 32, Lost);
        Put(bytes, 40, Latest.UnixNanoseconds);
        Put(bytes, 48, Entries.Count);
        int at = HeaderLength;
        foreach (IndexEntry entry in Entries)
        {
            Put(bytes, at, entry.Time.UnixNanoseconds);
            Put(bytes, at + 8, entry.Offset);
            Put(bytes, at + 16, entry.Number);
            at += EntryLength;
        }

        WholeFile.Write(segment + Suffix, bytes);
    }

    // Every entry is looked up in the segment: a block of a record must stand there, and nothing but such blocks behind the last.
    private bool Holds(string segment)
    {
        using FileStream stream = new(segment, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 0);
        if (stream.Length != SegmentLength)
        {
            return false;
        }

        Span<byte> head = stackalloc byte[32];
        foreach (IndexEntry entry in Entries)
        {
            if (RandomAccess.Read(stream.SafeFileHandle, head, entry.Offset) < head.Length || !IsRecordAt(head, entry))
            {
                return false;
            }
        }

        return true;
    }

    private static bool IsRecordAt(ReadOnlySpan<byte> head, IndexEntry entry)
    {
        uint type = BinaryPrimitives.ReadUInt32LittleEndian(head);
        if (type == ChannelRecord)
        {
            return Int64(head, 24) == entry.Time.UnixNanoseconds;
        }

        // Recordings count nanoseconds since 1970 (if_tsresol 9, no offset).
        long ticks = unchecked((long)(((ulong)BinaryPrimitives.ReadUInt32LittleEndian(head[12..]) << 32)
            | BinaryPrimitives.ReadUInt32LittleEndian(head[16..])));
        return type is EnhancedPacket or InterfaceStatistics && ticks == entry.Time.UnixNanoseconds;
    }

    private static long Int64(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadInt64LittleEndian(bytes[at..]);

    private static void Put(Span<byte> bytes, int at, long value) => BinaryPrimitives.WriteInt64LittleEndian(bytes[at..], value);
}
