using System.Text;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>The marks met so far; bounded, further ones are counted.</summary>
public sealed class MarkTable
{
    /// <summary>Most marks kept.</summary>
    public const int Capacity = 4_096;

    private readonly List<MarkSummary> _marks = [];

    /// <summary>Marks beyond those kept.</summary>
    public long NotListed { get; private set; }

    /// <summary>Takes in a mark; what is not UTF-8 in it becomes U+FFFD.</summary>
    public void Add(in CaptureRecord record)
    {
        if (_marks.Count == Capacity)
        {
            NotListed++;
            return;
        }

        _marks.Add(new MarkSummary(record.Time, Encoding.UTF8.GetString(record.Data), record.Number));
    }

    /// <summary>The marks by time; those of one time in the order of their records.</summary>
    public IReadOnlyList<MarkSummary> Snapshot() => [.. _marks.OrderBy(mark => mark.Time)];
}
