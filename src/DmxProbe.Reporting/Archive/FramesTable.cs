using DmxProbe.Analysis.Survey;

using Parquet.Schema;

namespace DmxProbe.Reporting.Archive;

/// <summary>The table <c>frames</c>: a row a frame, with its time.</summary>
internal sealed class FramesTable : IDisposable
{
    private const int RowsOfGroup = 16_384;
    private readonly ArchiveShow _show;
    private readonly ParquetTable _table;
    private readonly List<int> _segments = [];
    private readonly List<int> _frames = [];
    private readonly List<long> _times = [];
    private readonly List<int> _priorities = [];
    private readonly List<int> _slots = [];
    private readonly List<SenderSummary> _senders = [];

    /// <summary>Begins a file.</summary>
    public FramesTable(ArchiveShow show, Stream stream)
    {
        _show = show;
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

    /// <summary>Takes in a segment.</summary>
    public void Add(PackedSegment segment)
    {
        for (int frame = 0; frame < segment.Frames; frame++)
        {
            _segments.Add(checked((int)segment.Number));
            _frames.Add(frame + 1);
            _times.Add(segment.Times[frame]);
            _priorities.Add(segment.Priorities[frame]);
            _slots.Add(segment.SlotCount);
            _senders.Add(segment.Sender);
        }

        if (_times.Count >= RowsOfGroup)
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

    private void Write()
    {
        if (_times.Count == 0)
        {
            return;
        }

        _table.Write(columns =>
        {
            columns.Texts(LevelsTable.Same(_show.Recording, _times.Count));
            columns.Texts([.. _senders.Select(sender => sender.Name)]);
            columns.Texts([.. _senders.Select(sender => sender.Address)]);
            columns.Texts([.. _senders.Select(sender => sender.Cid)]);
            columns.Numbers(_segments.ToArray());
            columns.Numbers(_frames.ToArray());
            columns.Times(_times);
            columns.Numbers(_priorities.ToArray());
            columns.Numbers(_slots.ToArray());
        });
        _segments.Clear();
        _frames.Clear();
        _times.Clear();
        _priorities.Clear();
        _slots.Clear();
        _senders.Clear();
    }
}
