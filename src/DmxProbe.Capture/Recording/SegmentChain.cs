using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// Segments one after the other as one source; one file is open at a time. An interface that every segment describes anew is
/// one interface. A segment that is cut does not keep the next from being read.
/// </summary>
/// <param name="name">The folder.</param>
/// <param name="parts">The segments in order.</param>
/// <param name="notes">What the folder says about its runs.</param>
/// <param name="firstPart">The number of the first as a part of the recording.</param>
internal sealed class SegmentChain(string name, IReadOnlyList<SegmentPart> parts, IReadOnlyList<string> notes, int firstPart) : INotedSource, IPartedSource
{
    private readonly List<CaptureInterface> _interfaces = [];
    private readonly List<int> _numbers = [];
    private ICaptureSource? _segment;
    private Timestamp? _pauseUntil;
    private int _next;
    private long _records;

    public string Name { get; } = name;

    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    public InputProblem? Problem { get; private set; }

    public IReadOnlyList<string> Notes { get; } = notes;

    public int Part => firstPart + Math.Max(0, _next - 1);

    public ReadStatus Read(out CaptureRecord record)
    {
        while (_segment is not null || TryOpenNext())
        {
            if (_pauseUntil is Timestamp pause && _interfaces.Count > 0)
            {
                // Nobody listened between two runs: what is missing there is nobody's fault.
                _pauseUntil = null;
                record = new CaptureRecord { Number = ++_records, Time = pause, Kind = RecordKind.Loss, InterfaceId = 0, LinkType = _interfaces[0].LinkType };
                return ReadStatus.Record;
            }

            if (_segment!.Read(out CaptureRecord read) == ReadStatus.Record)
            {
                record = new CaptureRecord
                {
                    Number = ++_records,
                    Time = read.Time,
                    HasTime = read.HasTime,
                    Kind = read.Kind,
                    InterfaceId = NumberOf(read.InterfaceId),
                    LinkType = read.LinkType,
                    OriginalLength = read.OriginalLength,
                    LostBefore = read.LostBefore,
                    Data = read.Data,
                };
                return ReadStatus.Record;
            }

            Note(_segment.Problem);
            _segment.Dispose();
            _segment = null;
        }

        record = default;
        return ReadStatus.End;
    }

    public void Dispose() => _segment?.Dispose();

    private bool TryOpenNext()
    {
        while (_next < parts.Count)
        {
            try
            {
                SegmentPart part = parts[_next++];
                _segment = CaptureFile.OpenFile(part.Path, LineFileOptions.None);
                _pauseUntil = part.PauseUntil ?? _pauseUntil;
                _numbers.Clear();
                return true;
            }
            catch (InputException unreadable)
            {
                Note(unreadable.Problem);
            }
        }

        return false;
    }

    private void Note(InputProblem? problem)
    {
        if (problem is not null)
        {
            Problem ??= problem with { What = Path.GetFileName(parts[_next - 1].Path) + ": " + problem.What };
        }
    }

    private int NumberOf(int inSegment)
    {
        while (_numbers.Count <= inSegment)
        {
            CaptureInterface described = _segment!.Interfaces[_numbers.Count];
            int number = _interfaces.FindIndex(known => known with { Id = described.Id } == described && !_numbers.Contains(known.Id));
            if (number < 0)
            {
                number = _interfaces.Count;
                _interfaces.Add(described with { Id = number });
            }

            _numbers.Add(number);
        }

        return _numbers[inSegment];
    }
}
