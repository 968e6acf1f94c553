using DmxProbe.Analysis.Survey;

using Parquet.Schema;

namespace DmxProbe.Reporting.Archive;

/// <summary>The table <c>frames</c>: a row a frame, with its time.</summary>
internal sealed class FramesTable : IDisposable
{
    private const int RowsOfGroup = 8_192;
    private readonly ArchiveShow _show;
    private readonly ParquetTable _table;
    private readonly ArchiveBuffers _buffers;
    private readonly List<Segment> _segments = [];
    private readonly List<long> _times = [];
    private readonly List<byte> _priorities = [];

    /// <summary>Begins a file.</summary>
    /// <param name="show">What the recording is of.</param>
    /// <param name="stream">Where to; belongs to this.</param>
    /// <param name="buffers">Room to put a row group together in; of the same thread.</param>
    public FramesTable(ArchiveShow show, Stream stream, ArchiveBuffers buffers)
    {
        _show = show;
        _buffers = buffers;
        _table = new ParquetTable(
            stream,
            LevelsTable.Text("recording"),
            LevelsTable.Text("sender"),
            LevelsTable.Text("address"),
            LevelsTable.Text("cid"),
            new DataField<int>("segment"),
            new DataField<int>("frame"),
            LevelsTable.Time("time_us"),
            new DataField<int>("priority"),
            new DataField<int>("slot_count"));
    }

    /// <summary>Octets that wait to be written.</summary>
    public int Waiting => _times.Capacity * (sizeof(long) + 1);

    /// <summary>Takes in a segment.</summary>
    public void Add(PackedSegment segment)
    {
        if (_times.Count + segment.Frames > RowsOfGroup)
        {
            Write();
        }

        _segments.Add(new Segment(segment.Sender, checked((int)segment.Number), segment.Frames, segment.SlotCount));
        _times.AddRange(segment.Times);
        _priorities.AddRange(segment.Priorities);
    }

    /// <summary>Writes what waits as a row group.</summary>
    public void Write()
    {
        int rows = _times.Count;
        if (rows == 0)
        {
            return;
        }

        _table.Write(columns =>
        {
            columns.Texts(_buffers.Same(_show.Recording, rows));
            columns.Texts(_buffers.Texts(rows, Each(segment => segment.Sender.Name)));
            columns.Texts(_buffers.Texts(rows, Each(segment => segment.Sender.Address)));
            columns.Texts(_buffers.Texts(rows, Each(segment => segment.Sender.Cid)));
            columns.Numbers(_buffers.Numbers(rows, Each(segment => segment.Number)));
            columns.Numbers(_buffers.Numbers(rows, _segments.SelectMany(segment => Enumerable.Range(1, segment.Frames))));
            columns.Micros(_buffers.Micros(rows, _times));
            columns.Numbers(_buffers.Numbers(rows, _priorities.Select(priority => (int)priority)));
            columns.Numbers(_buffers.Numbers(rows, Each(segment => segment.Slots)));
        });
        _segments.Clear();
        _times.Clear();
        _priorities.Clear();
    }

    /// <summary>Writes the rest, and the end of the file.</summary>
    public void Finish()
    {
        Write();
        _table.Close();
    }

    /// <inheritdoc/>
    public void Dispose() => _table.Dispose();

    private IEnumerable<T> Each<T>(Func<Segment, T> of) => _segments.SelectMany(segment => Enumerable.Repeat(of(segment), segment.Frames));

    private readonly record struct Segment(SenderSummary Sender, int Number, int Frames, int Slots);
}
