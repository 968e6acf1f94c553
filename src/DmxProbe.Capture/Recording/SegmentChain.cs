using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// Segments one after the other as one source; one file is open at a time. An interface that every segment describes anew is
/// one interface. A segment that is cut does not keep the next from being read.
/// </summary>
/// <param name="name">Name to print.</param>
/// <param name="paths">The segments.</param>
/// <param name="firstPart">The number of the first as a part of the recording.</param>
internal sealed class SegmentChain(string name, IReadOnlyList<string> paths, int firstPart) : IPartedSource
{
    private readonly List<CaptureInterface> _interfaces = [];
    private readonly List<int> _numbers = [];
    private ICaptureSource? _segment;
    private int _next;
    private long _records;

    public string Name { get; } = name;

    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    public InputProblem? Problem { get; private set; }

    public int Part => firstPart + Math.Max(0, _next - 1);

    public ReadStatus Read(out CaptureRecord record)
    {
        while (_segment is not null || TryOpenNext())
        {
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
        while (_next < paths.Count)
        {
            try
            {
                _segment = CaptureFile.OpenFile(paths[_next++], LineFileOptions.None);
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
            Problem ??= problem with { What = Path.GetFileName(paths[_next - 1]) + ": " + problem.What };
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
