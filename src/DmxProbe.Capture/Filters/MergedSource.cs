using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Filters;

/// <summary>
/// Several sources of one moment as one, by time. Of records with equal times the source given first goes first. Records
/// and interfaces are numbered anew. Owns its sources.
/// </summary>
public sealed class MergedSource : IMergedSource, INotedSource
{
    private readonly Part[] _parts;
    private readonly List<CaptureInterface> _interfaces = [];
    private long _records;
    private long _reads;
    private int _delivered = -1;

    /// <summary>Merges sources.</summary>
    /// <param name="sources">At least one.</param>
    public MergedSource(IReadOnlyList<ICaptureSource> sources)
    {
        _parts = [.. sources.Select(source => new Part(source))];
        Parts = [.. _parts.Select(part => part.Shown)];
        Name = string.Join(" + ", sources.Select(source => source.Name));
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    /// <inheritdoc/>
    public IReadOnlyList<SourcePart> Parts { get; }

    /// <summary>The problem of the first part that has one.</summary>
    public InputProblem? Problem => Array.Find(_parts, part => part.Source.Problem is not null)?.Source.Problem;

    /// <inheritdoc/>
    public IReadOnlyList<string> Notes => [.. _parts.Select(part => part.Source).OfType<INotedSource>().SelectMany(source => source.Notes)];

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        _reads++;
        // A source's record is valid until its next read, so the one delivered last is only now replaced.
        if (_delivered >= 0)
        {
            _parts[_delivered].Fill(this);
            _delivered = -1;
        }

        foreach (Part part in _parts)
        {
            if (part.Status is null)
            {
                part.Fill(this);
            }
        }

        int earliest = Earliest();
        Timestamp idleUntil = Timestamp.MaxValue;
        foreach (Part part in _parts)
        {
            // Asking a live source may take its time, so it is asked only when it could still bring something earlier.
            if (part.Status == ReadStatus.Idle && part.AskedIn != _reads && (earliest < 0 || part.Time < _parts[earliest].Time))
            {
                part.Fill(this);
            }

            if (part.Status == ReadStatus.Idle)
            {
                idleUntil = part.Time < idleUntil ? part.Time : idleUntil;
            }
        }

        earliest = Earliest();
        // Nothing may overtake a live source that could still bring something earlier.
        if (idleUntil < Timestamp.MaxValue && (earliest < 0 || _parts[earliest].Time > idleUntil))
        {
            record = new CaptureRecord { Number = _records, Time = idleUntil, InterfaceId = 0 };
            return ReadStatus.Idle;
        }

        if (earliest < 0)
        {
            record = default;
            return ReadStatus.End;
        }

        _delivered = earliest;
        record = _parts[earliest].Record(++_records);
        return ReadStatus.Record;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (Part part in _parts)
        {
            part.Source.Dispose();
        }
    }

    private int Earliest()
    {
        int earliest = -1;
        for (int i = 0; i < _parts.Length; i++)
        {
            if (_parts[i].Status == ReadStatus.Record && (earliest < 0 || _parts[i].Time < _parts[earliest].Time))
            {
                earliest = i;
            }
        }

        return earliest;
    }

    // One source and a copy of its next record: a ref struct cannot be kept.
    private sealed class Part
    {
        private readonly List<int> _interfaceIds = [];
        private byte[] _data = new byte[2048];
        private int _length;
        private int _interfaceId;
        private int _originalLength;
        private long _lostBefore;
        private bool _hasTime;
        private RecordKind _kind;
        private LinkType _linkType;

        public Part(ICaptureSource source)
        {
            Source = source;
            Shown = new SourcePart(source, _interfaceIds);
        }

        public ICaptureSource Source { get; }

        public SourcePart Shown { get; }

        public ReadStatus? Status { get; private set; }

        public Timestamp Time { get; private set; }

        /// <summary>Which read of the merged source asked it last.</summary>
        public long AskedIn { get; private set; }

        public void Fill(MergedSource merged)
        {
            if (Status == ReadStatus.End)
            {
                return;
            }

            AskedIn = merged._reads;
            Status = Source.Read(out CaptureRecord record);
            if (Status == ReadStatus.End)
            {
                return;
            }

            Time = record.Time;
            if (Status == ReadStatus.Idle)
            {
                return;
            }

            while (_interfaceIds.Count <= record.InterfaceId)
            {
                _interfaceIds.Add(merged._interfaces.Count);
                merged._interfaces.Add(Source.Interfaces[_interfaceIds.Count - 1] with { Id = merged._interfaces.Count });
            }

            if (record.Data.Length > _data.Length)
            {
                _data = new byte[record.Data.Length * 2];
            }

            record.Data.CopyTo(_data);
            _length = record.Data.Length;
            _interfaceId = _interfaceIds[record.InterfaceId];
            _originalLength = record.OriginalLength;
            _lostBefore = record.LostBefore;
            _hasTime = record.HasTime;
            _kind = record.Kind;
            _linkType = record.LinkType;
        }

        public CaptureRecord Record(long number) => new()
        {
            Number = number,
            Time = Time,
            HasTime = _hasTime,
            Kind = _kind,
            InterfaceId = _interfaceId,
            LinkType = _linkType,
            OriginalLength = _originalLength,
            LostBefore = _lostBefore,
            Data = _data.AsSpan(0, _length),
        };
    }
}
