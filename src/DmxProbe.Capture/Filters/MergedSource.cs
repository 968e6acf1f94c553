using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Filters;

/// <summary>
/// Several sources of one moment as one, by time. Of records with equal times the source given first goes first. Records
/// and interfaces are numbered anew. Owns its sources.
/// </summary>
public sealed class MergedSource : IMergedSource
{
    private readonly Part[] _parts;
    private readonly List<CaptureInterface> _interfaces = [];
    private long _records;
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
    public ReadStatus Read(out CaptureRecord record)
    {
        // A source's record is valid until its next read, so the one delivered last is only now replaced.
        if (_delivered >= 0)
        {
            _parts[_delivered].Fill(this);
            _delivered = -1;
        }

        int earliest = -1;
        Timestamp idleUntil = Timestamp.MaxValue;
        for (int i = 0; i < _parts.Length; i++)
        {
            Part part = _parts[i];
            if (part.Status is null or ReadStatus.Idle)
            {
                part.Fill(this);
            }

            if (part.Status == ReadStatus.Idle)
            {
                idleUntil = part.Time < idleUntil ? part.Time : idleUntil;
            }
            else if (part.Status == ReadStatus.Record && (earliest < 0 || part.Time < _parts[earliest].Time))
            {
                earliest = i;
            }
        }

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

        public void Fill(MergedSource merged)
        {
            if (Status == ReadStatus.End)
            {
                return;
            }

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
