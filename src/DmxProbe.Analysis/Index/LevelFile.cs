using System.Buffers;
using System.Buffers.Binary;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// Reads a review file (docs/formats.md). Untrusted: every piece carries a checksum, and what does not hold is said, never
/// guessed at; the file is then made again from the recording.
/// </summary>
internal sealed class LevelFile : IDisposable
{
    /// <summary>Octets of the header.</summary>
    public const int HeaderLength = 64;

    /// <summary>Octets of a row of a stream's table: first level, length of the changes.</summary>
    public const int TableRow = 5;

    /// <summary>Octets of a checksum.</summary>
    public const int SumLength = 4;

    private const int LongestDirectory = 256 * 1024 * 1024;

    // A question about every slot of a universe asks for the same times and table 512 times.
    private const int MostKept = 4;
    private readonly Queue<long> _kept = new();
    private readonly Dictionary<long, (long[]? Times, (byte First, int Length)[]? Table)> _byOffset = [];
    private readonly Stream _stream;

    private LevelFile(Stream stream, IReadOnlyList<ReviewStream> streams, IReadOnlyList<(int Stream, LevelFileEntry Entry)> entries)
    {
        _stream = stream;
        Streams = streams;
        Entries = entries;
    }

    /// <summary>Begins every such file; the last character is the version.</summary>
    public static ReadOnlySpan<byte> Magic => "DmxPrLv1"u8;

    /// <summary>Universe and sender of each stream.</summary>
    public IReadOnlyList<ReviewStream> Streams { get; }

    /// <summary>What there is of each stream, in order of time.</summary>
    public IReadOnlyList<(int Stream, LevelFileEntry Entry)> Entries { get; }

    /// <summary>Opens a file.</summary>
    /// <param name="stream">The file; belongs to the result, and is closed where there is none.</param>
    /// <param name="part">The part that it must be made from.</param>
    /// <returns>Null where it is none, damaged, or of another state of the part.</returns>
    public static LevelFile? TryOpen(Stream stream, RecordingPart part)
    {
        try
        {
            if (TryRead(stream, part) is LevelFile file)
            {
                return file;
            }
        }
        catch (IOException)
        {
            // As if it were not there.
        }

        stream.Dispose();
        return null;
    }

    /// <summary>When each frame came.</summary>
    /// <returns>Null where the file is damaged.</returns>
    public long[]? Times(LevelFileEntry entry)
    {
        if (_byOffset.TryGetValue(entry.Offset, out (long[]? Times, (byte First, int Length)[]? Table) kept) && kept.Times is not null)
        {
            return kept.Times;
        }

        long[]? times = ReadTimes(entry);
        Keep(entry, times, kept.Table);
        return times;
    }

    private (byte First, int Length)[]? Table(LevelFileEntry entry)
    {
        if (_byOffset.TryGetValue(entry.Offset, out (long[]? Times, (byte First, int Length)[]? Table) kept) && kept.Table is not null)
        {
            return kept.Table;
        }

        (byte First, int Length)[]? table = ReadTable(entry);
        Keep(entry, kept.Times, table);
        return table;
    }

    private void Keep(LevelFileEntry entry, long[]? times, (byte First, int Length)[]? table)
    {
        if (!_byOffset.ContainsKey(entry.Offset))
        {
            _kept.Enqueue(entry.Offset);
            if (_kept.Count > MostKept)
            {
                _byOffset.Remove(_kept.Dequeue());
            }
        }

        _byOffset[entry.Offset] = (times, table);
    }

    private long[]? ReadTimes(LevelFileEntry entry)
    {
        long[] times = new long[entry.Frames];
        if (entry.Frames == 0)
        {
            return times;
        }

        byte[] room = ArrayPool<byte>.Shared.Rent(entry.TimesLength + SumLength);
        try
        {
            if (!TryGet(entry.Offset + TableLength(entry), room.AsSpan(0, entry.TimesLength + SumLength), out ReadOnlySpan<byte> octets))
            {
                return null;
            }

            OctetReader reader = new(octets);
            long time = times[0] = entry.First.UnixNanoseconds;
            long step = 0;
            for (int i = 1; i < times.Length; i++)
            {
                step = unchecked(step + reader.Signed());
                time = unchecked(time + step);
                times[i] = time;
            }

            return reader.IsBroken || !reader.IsAtEnd ? null : times;
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(room);
        }
    }

    /// <summary>The levels that a frame left.</summary>
    /// <param name="entry">The stream in its block.</param>
    /// <param name="frame">The frame, from 0.</param>
    /// <param name="count">Slots wanted.</param>
    /// <returns>Null where the file is damaged.</returns>
    public byte[]? Levels(LevelFileEntry entry, int frame, int count)
    {
        if (Table(entry) is not { } table || count > entry.MostCount)
        {
            return null;
        }

        byte[] levels = new byte[count];
        long offset = entry.Offset + TableLength(entry) + entry.TimesLength + SumLength;
        for (int slot = 0; slot < count; slot++)
        {
            (byte first, int length) = table[slot];
            levels[slot] = first;
            if (length == 0)
            {
                continue;
            }

            byte[] room = ArrayPool<byte>.Shared.Rent(length + SumLength);
            try
            {
                if (!TryGet(offset, room.AsSpan(0, length + SumLength), out ReadOnlySpan<byte> octets))
                {
                    return null;
                }

                SlotChanges changes = new(octets, first, entry.Frames);
                while (changes.Next() && changes.Frame <= frame)
                {
                    levels[slot] = changes.Level;
                }

                if (changes.IsBroken)
                {
                    return null;
                }
            }
            finally
            {
                ArrayPool<byte>.Shared.Return(room);
            }

            offset += length + SumLength;
        }

        return levels;
    }

    /// <summary>The first level of a slot and its changes, each with its frame.</summary>
    /// <param name="entry">The stream in its block.</param>
    /// <param name="slot">From 0.</param>
    /// <returns>Null where the file is damaged.</returns>
    public List<(int Frame, byte Level)>? Changes(LevelFileEntry entry, int slot)
    {
        if (Table(entry) is not { } table || slot >= entry.MostCount)
        {
            return null;
        }

        long offset = entry.Offset + TableLength(entry) + entry.TimesLength + SumLength;
        for (int before = 0; before < slot; before++)
        {
            offset += table[before].Length == 0 ? 0 : table[before].Length + SumLength;
        }

        (byte first, int length) = table[slot];
        List<(int, byte)> found = [(0, first)];
        if (length == 0)
        {
            return found;
        }

        byte[] room = ArrayPool<byte>.Shared.Rent(length + SumLength);
        try
        {
            if (!TryGet(offset, room.AsSpan(0, length + SumLength), out ReadOnlySpan<byte> octets))
            {
                return null;
            }

            SlotChanges changes = new(octets, first, entry.Frames);
            while (changes.Next())
            {
                found.Add((changes.Frame, changes.Level));
            }

            return changes.IsBroken ? null : found;
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(room);
        }
    }

    /// <summary>Closes the file.</summary>
    public void Dispose() => _stream.Dispose();

    private static int TableLength(LevelFileEntry entry) => (entry.MostCount * TableRow) + SumLength;

    private static LevelFile? TryRead(Stream stream, RecordingPart part)
    {
        byte[] header = new byte[HeaderLength];
        if (stream.ReadAtLeast(header, HeaderLength, throwOnEndOfStream: false) < HeaderLength
            || !header.AsSpan().StartsWith(Magic)
            || BinaryPrimitives.ReadUInt32LittleEndian(header.AsSpan(44)) != Octets.Sum(header.AsSpan(0, 44))
            || BinaryPrimitives.ReadInt64LittleEndian(header.AsSpan(8)) != part.Octets
            || BinaryPrimitives.ReadUInt64LittleEndian(header.AsSpan(16)) != part.Stamp)
        {
            return null;
        }

        long offset = BinaryPrimitives.ReadInt64LittleEndian(header.AsSpan(24));
        long length = BinaryPrimitives.ReadInt64LittleEndian(header.AsSpan(32));
        if (offset < HeaderLength || length is < 0 or > LongestDirectory || offset > stream.Length - length)
        {
            return null;
        }

        byte[] directory = new byte[length];
        stream.Position = offset;
        stream.ReadExactly(directory);
        if (BinaryPrimitives.ReadUInt32LittleEndian(header.AsSpan(40)) != Octets.Sum(directory))
        {
            return null;
        }

        OctetReader reader = new(directory);
        List<ReviewStream> streams = [];
        for (int left = reader.Count(StreamTable.Capacity); left > 0 && !reader.IsBroken; left--)
        {
            streams.Add(Described(ref reader, streams.Count));
        }

        List<(int, LevelFileEntry)> entries = [];
        for (int blocks = reader.Count(int.MaxValue); blocks > 0 && !reader.IsBroken; blocks--)
        {
            for (int left = reader.Count(StreamTable.Capacity); left > 0 && !reader.IsBroken; left--)
            {
                int of = reader.Count(int.MaxValue);
                if (LevelFileEntry.Read(ref reader, stream.Length) is not LevelFileEntry entry || of >= streams.Count)
                {
                    return null;
                }

                entries.Add((of, entry));
            }
        }

        return reader.IsBroken || !reader.IsAtEnd ? null : new LevelFile(stream, streams, entries);
    }

    private static ReviewStream Described(ref OctetReader reader, int index)
    {
        UniverseId universe = new((UniverseProtocol)reader.Octet(), reader.Count(int.MaxValue));
        UniverseProtocol protocol = (UniverseProtocol)reader.Octet();
        string name = reader.Text();
        string address = reader.Text();
        string measuredAt = reader.Text();
        string cid = reader.Text();
        List<string> addresses = [];
        for (int left = reader.Count(byte.MaxValue); left > 0 && !reader.IsBroken; left--)
        {
            addresses.Add(reader.Text());
        }

        return new ReviewStream(universe, new SenderSummary
        {
            Index = index,
            Protocol = protocol,
            Name = name,
            Address = address,
            Addresses = addresses,
            MeasuredAt = measuredAt,
            Cid = cid,
            Physical = (int)Math.Clamp(reader.Signed(), -1, byte.MaxValue),
        });
    }

    private (byte First, int Length)[]? ReadTable(LevelFileEntry entry)
    {
        byte[] room = new byte[TableLength(entry)];
        if (!TryGet(entry.Offset, room, out ReadOnlySpan<byte> octets))
        {
            return null;
        }

        (byte, int)[] table = new (byte, int)[entry.MostCount];
        for (int slot = 0; slot < table.Length; slot++)
        {
            int length = BinaryPrimitives.ReadInt32LittleEndian(octets[((slot * TableRow) + 1)..]);
            if (length < 0 || length > _stream.Length)
            {
                return null;
            }

            table[slot] = (octets[slot * TableRow], length);
        }

        return table;
    }

    private bool TryGet(long offset, Span<byte> room, out ReadOnlySpan<byte> octets)
    {
        octets = room[..^SumLength];
        try
        {
            if (offset < 0 || offset > _stream.Length - room.Length)
            {
                return false;
            }

            _stream.Position = offset;
            _stream.ReadExactly(room);
            return BinaryPrimitives.ReadUInt32LittleEndian(room[^SumLength..]) == Octets.Sum(octets);
        }
        catch (IOException)
        {
            return false;
        }
    }
}
