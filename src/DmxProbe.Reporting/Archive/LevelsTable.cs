using System.Buffers;
using System.Numerics;

using DmxProbe.Analysis.Survey;

using Parquet.Schema;

namespace DmxProbe.Reporting.Archive;

/// <summary>The table <c>levels</c>: a row a slot of a segment, with its level in each frame; one level only where it never changed.</summary>
internal sealed class LevelsTable : IDisposable
{
    private const int ValuesOfGroup = 200_000;
    private const int RowsOfGroup = 8_192;
    private const int SlotsOfFrame = 512;
    private readonly ArchiveShow _show;
    private readonly ParquetTable _table;
    private readonly ArchiveBuffers _buffers;

    // What all rows of a segment share stands once: hundreds of universes are open at a time.
    private readonly List<Segment> _segments = [];
    private readonly List<Row> _rows = [];
    private readonly byte[] _moving = new byte[SlotsOfFrame];
    private byte[] _levels = [];
    private int _count;

    /// <summary>Begins a file.</summary>
    /// <param name="show">What the recording is of.</param>
    /// <param name="stream">Where to; belongs to this.</param>
    /// <param name="buffers">Room to put a row group together in; of the same thread.</param>
    public LevelsTable(ArchiveShow show, Stream stream, ArchiveBuffers buffers)
    {
        _show = show;
        _buffers = buffers;
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

    /// <summary>Octets that wait to be written.</summary>
    public int Waiting => _levels.Length + (_rows.Capacity * sizeof(long));

    /// <summary>Takes in a segment.</summary>
    public void Add(PackedSegment segment)
    {
        FindMoving(segment);
        _segments.Add(new Segment(segment.Sender, checked((int)segment.Number), segment.Times[0], segment.Times[^1], segment.Frames, segment.SlotCount));
        for (int slot = 0; slot < segment.SlotCount; slot++)
        {
            if (_moving[slot] == 0)
            {
                byte level = segment.Slots[slot];
                Room(1)[0] = level;
                _rows.Add(new Row(level, level, 0, 1));
            }
            else
            {
                AddMoving(segment, slot);
            }
        }

        if (_count >= ValuesOfGroup || _rows.Count >= RowsOfGroup)
        {
            Write();
        }
    }

    /// <summary>Writes what waits as a row group.</summary>
    public void Write()
    {
        int rows = _rows.Count;
        if (rows == 0)
        {
            return;
        }

        _table.Write(columns =>
        {
            columns.Texts(_buffers.Same(_show.Recording, rows));
            columns.Texts(_buffers.Same(_show.Show, rows));
            columns.Texts(_buffers.Same(_show.Venue, rows));
            columns.Texts(_buffers.Texts(rows, Each(segment => segment.Sender.Name)));
            columns.Texts(_buffers.Texts(rows, Each(segment => segment.Sender.Address)));
            columns.Texts(_buffers.Texts(rows, Each(segment => segment.Sender.Cid)));
            columns.Numbers(_buffers.Numbers(rows, Each(segment => segment.Number)));
            columns.Micros(_buffers.Micros(rows, Each(segment => segment.From)));
            columns.Micros(_buffers.Micros(rows, Each(segment => segment.To)));
            columns.Numbers(_buffers.Numbers(rows, Each(segment => segment.Frames)));
            columns.Numbers(_buffers.Numbers(rows, _segments.SelectMany(segment => Enumerable.Range(1, segment.Slots))));
            columns.Numbers(_buffers.Numbers(rows, _rows.Select(row => (int)row.Least)));
            columns.Numbers(_buffers.Numbers(rows, _rows.Select(row => (int)row.Most)));
            columns.Numbers(_buffers.Numbers(rows, _rows.Select(row => (int)row.Changes)));
            columns.Lists(_buffers.Levels(_levels.AsSpan(0, _count)), _buffers.Repetitions(_count, _rows.Select(row => (int)row.Length)));
        });
        Release();
    }

    /// <summary>Writes the rest, and the end of the file.</summary>
    public void Finish()
    {
        Write();
        _table.Close();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Release();
        _table.Dispose();
    }

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
        Span<byte> column = Room(frames);
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
            column[frame] = level;
        }

        _rows.Add(new Row(least, most, (ushort)changes, (ushort)frames));
    }

    // Room for so many levels more; taken from a pool and given back with every row group, because most universes wait half full.
    private Span<byte> Room(int more)
    {
        if (_count + more > _levels.Length)
        {
            byte[] larger = ArrayPool<byte>.Shared.Rent(Math.Max(_count + more, 2 * _levels.Length));
            _levels.AsSpan(0, _count).CopyTo(larger);
            Return();
            _levels = larger;
        }

        Span<byte> room = _levels.AsSpan(_count, more);
        _count += more;
        return room;
    }

    private void Return()
    {
        if (_levels.Length > 0)
        {
            ArrayPool<byte>.Shared.Return(_levels);
            _levels = [];
        }
    }

    private void Release()
    {
        Return();
        _count = 0;
        _rows.Clear();
        _segments.Clear();
    }

    private IEnumerable<T> Each<T>(Func<Segment, T> of) => _segments.SelectMany(segment => Enumerable.Repeat(of(segment), segment.Slots));

    private readonly record struct Segment(SenderSummary Sender, int Number, long From, long To, int Frames, int Slots);

    // A segment has at most 512 frames.
    private readonly record struct Row(byte Least, byte Most, ushort Changes, ushort Length);
}
