using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>Collects the entries of an index while records go by: one a second at first, at most 4,096 in all.</summary>
internal sealed class IndexBuilder
{
    private readonly List<IndexEntry> _entries = [];
    private Duration _spacing = Duration.FromSeconds(1);
    private IndexEntry _last;
    private long _records;
    private long _marks;
    private long _lost;

    /// <summary>Records so far.</summary>
    public long Records => _records;

    /// <summary>Time of the first record; null before it.</summary>
    public Timestamp? First => _entries.Count > 0 ? _entries[0].Time : null;

    /// <summary>Latest time of a record.</summary>
    public Timestamp Latest { get; private set; } = Timestamp.MinValue;

    /// <summary>Takes in the next record.</summary>
    public void Add(Timestamp time, long offset, RecordKind kind, long lost)
    {
        _last = new IndexEntry(time, offset, ++_records);
        _marks += kind == RecordKind.Mark ? 1 : 0;
        _lost = unchecked((long)Math.Min((ulong)_lost + (ulong)lost, long.MaxValue));
        Latest = time > Latest ? time : Latest;
        if (_entries.Count == 0 || time - _entries[^1].Time >= _spacing || time < _entries[^1].Time - _spacing)
        {
            _entries.Add(_last);
            if (_entries.Count == SegmentIndex.MostEntries)
            {
                _spacing *= 2;
                for (int i = 1; i < _entries.Count; i++)
                {
                    _entries.RemoveAt(i);
                }
            }
        }
    }

    /// <summary>The index of a segment of this length.</summary>
    public SegmentIndex Build(long segmentLength)
    {
        List<IndexEntry> entries = [.. _entries];
        if (entries.Count > 0 && entries[^1] != _last)
        {
            entries.Add(_last);
        }

        return new SegmentIndex(segmentLength, _records, _marks, _lost, Latest, entries);
    }
}
