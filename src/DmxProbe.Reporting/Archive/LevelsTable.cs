using System.Buffers;
using System.Numerics;
using System.Runtime.InteropServices;

using DmxProbe.Analysis.Survey;

using Parquet.Schema;

namespace DmxProbe.Reporting.Archive;

/// <summary>The table <c>levels</c>: a row a slot of a segment, with its level in each frame; one level only where it never changed.</summary>
internal sealed class LevelsTable : IDisposable
{
    private const int ValuesOfGroup = 200_000;
    private const int RowsOfGroup = 8_192;
    private readonly ArchiveShow _show;
    private readonly ParquetTable _table;
    private readonly List<SenderSummary> _senders = [];
    private readonly List<int> _segments = [];
    private readonly List<long> _from = [];
    private readonly List<long> _to = [];
    private readonly List<int> _frames = [];
    private readonly List<int> _slots = [];
    private readonly List<int> _least = [];
    private readonly List<int> _most = [];
    private readonly List<int> _changes = [];
    private readonly List<int> _lengths = [];
    private readonly List<byte> _levels = [];
    private readonly byte[] _moving = new byte[512];
    private byte[] _column = [];

    /// <summary>Begins a file.</summary>
    public LevelsTable(ArchiveShow show, Stream stream)
    {
        _show = show;
        _table = new ParquetTable(
            stream,
            Text("recording"),
            Text("show_name"),
            Text("venue"),
            Text("sender"),
            Text("address"),
            Text("cid"),
            new DataField<int>("segment"),
            Time("from_us"),
            Time("to_us"),
            new DataField<int>("frames"),
            new DataField<int>("slot"),
            new DataField<int>("least"),
            new DataField<int>("most"),
            new DataField<int>("changes"),
            new ListField("levels", new DataField("element", typeof(int), false)));
    }

    /// <summary>A column of texts without nulls.</summary>
    public static DataField Text(string name) => new(name, typeof(string), false);

    /// <summary>A column of moments in UTC, microseconds since 1970: a number, because the library writes wrong bounds for time stamps.</summary>
    public static DataField Time(string name) => new DataField<long>(name);

    /// <summary>The same text in all rows.</summary>
    public static string[] Same(string text, int rows)
    {
        string[] texts = new string[rows];
        Array.Fill(texts, text);
        return texts;
    }

    /// <summary>Takes in a segment.</summary>
    public void Add(PackedSegment segment)
    {
        FindMoving(segment);
        for (int slot = 0; slot < segment.SlotCount; slot++)
        {
            _senders.Add(segment.Sender);
            _segments.Add(checked((int)segment.Number));
            _from.Add(segment.Times[0]);
            _to.Add(segment.Times[^1]);
            _frames.Add(segment.Frames);
            _slots.Add(slot + 1);
            if (_moving[slot] == 0)
            {
                byte level = segment.Slots[slot];
                _least.Add(level);
                _most.Add(level);
                _changes.Add(0);
                _lengths.Add(1);
                _levels.Add(level);
            }
            else
            {
                AddMoving(segment, slot);
            }
        }

        if (_levels.Count >= ValuesOfGroup || _slots.Count >= RowsOfGroup)
        {
            Write();
        }
    }

    /// <summary>Writes the rest, and the end of the file.</summary>
    public void Finish()
    {
        Write();
        _table.Close();
    }

    /// <inheritdoc/>
    public void Dispose() => _table.Dispose();

    // Which slots differ from the first frame anywhere, many at a time.
    private void FindMoving(PackedSegment segment)
    {
        int count = segment.SlotCount;
        ReadOnlySpan<byte> first = segment.Slots.AsSpan(0, count);
        Span<byte> moving = _moving.AsSpan(0, count);
        moving.Clear();
        for (int frame = 1; frame < segment.Frames; frame++)
        {
            ReadOnlySpan<byte> slots = segment.Slots.AsSpan(frame * count, count);
            int slot = 0;
            for (; slot <= count - Vector<byte>.Count; slot += Vector<byte>.Count)
            {
                Vector<byte> differs = new Vector<byte>(slots[slot..]) ^ new Vector<byte>(first[slot..]);
                (new Vector<byte>(moving[slot..]) | differs).CopyTo(moving[slot..]);
            }

            for (; slot < count; slot++)
            {
                moving[slot] |= (byte)(slots[slot] ^ first[slot]);
            }
        }
    }

    private void AddMoving(PackedSegment segment, int slot)
    {
        int frames = segment.Frames;
        if (_column.Length < frames)
        {
            _column = new byte[PackedSegment.MostFrames];
        }

        byte least = byte.MaxValue;
        byte most = 0;
        int changes = 0;
        int last = segment.Slots[slot];
        for (int frame = 0, at = slot; frame < frames; frame++, at += segment.SlotCount)
        {
            byte level = segment.Slots[at];
            least = Math.Min(least, level);
            most = Math.Max(most, level);
            changes += level == last ? 0 : 1;
            last = level;
            _column[frame] = level;
        }

        _least.Add(least);
        _most.Add(most);
        _changes.Add(changes);
        _lengths.Add(frames);
        _levels.AddRange(_column.AsSpan(0, frames));
    }

    private void Write()
    {
        int rows = _slots.Count;
        if (rows == 0)
        {
            return;
        }

        int count = _levels.Count;
        int[] levels = ArrayPool<int>.Shared.Rent(count);
        int[] repetitions = ArrayPool<int>.Shared.Rent(count);
        ReadOnlySpan<byte> octets = CollectionsMarshal.AsSpan(_levels);
        for (int i = 0; i < count; i++)
        {
            levels[i] = octets[i];
        }

        repetitions.AsSpan(0, count).Fill(1);
        int at = 0;
        foreach (int length in _lengths)
        {
            repetitions[at] = 0;
            at += length;
        }

        _table.Write(columns =>
        {
            columns.Texts(Same(_show.Recording, rows));
            columns.Texts(Same(_show.Show, rows));
            columns.Texts(Same(_show.Venue, rows));
            columns.Texts([.. _senders.Select(sender => sender.Name)]);
            columns.Texts([.. _senders.Select(sender => sender.Address)]);
            columns.Texts([.. _senders.Select(sender => sender.Cid)]);
            columns.Numbers(_segments.ToArray());
            columns.Times(_from);
            columns.Times(_to);
            columns.Numbers(_frames.ToArray());
            columns.Numbers(_slots.ToArray());
            columns.Numbers(_least.ToArray());
            columns.Numbers(_most.ToArray());
            columns.Numbers(_changes.ToArray());
            columns.Lists(levels.AsMemory(0, count), repetitions.AsMemory(0, count));
        });
        ArrayPool<int>.Shared.Return(levels);
        ArrayPool<int>.Shared.Return(repetitions);
        _senders.Clear();
        _segments.Clear();
        _from.Clear();
        _to.Clear();
        _frames.Clear();
        _slots.Clear();
        _least.Clear();
        _most.Clear();
        _changes.Clear();
        _lengths.Clear();
        _levels.Clear();
    }
}
