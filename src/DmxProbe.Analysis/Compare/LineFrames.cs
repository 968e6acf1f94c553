using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>The sound frames of a line, each with its content, and where the content changed.</summary>
internal sealed class LineFrames
{
    public LineFrames(TapRecording tap, TapStream line, int slots)
    {
        int last = -1;
        foreach (TapFrame frame in line.Frames)
        {
            if (frame.IsDamaged || frame.IsEnd)
            {
                continue;
            }

            if (frame.Content != last || Changes.Count == 0)
            {
                last = frame.Content;
                byte[] content = new byte[slots];
                ReadOnlySpan<byte> carried = tap.Slots(frame.Content);
                carried[..Math.Min(slots, carried.Length)].CopyTo(content);
                ulong hash = SlotHash.Of(content, slots);
                if (Changes.Count == 0 || hash != Changes[^1].Hash)
                {
                    Changes.Add(new OutputChange(frame.Time, content, hash));
                }
            }

            All.Add((frame.Time, Changes[^1]));
        }

        Last = All[^1].Time;
        End = tap.Last;
    }

    private LineFrames(LineFrames other, double drift)
    {
        Timestamp start = other.All[0].Time;
        Timestamp Moved(Timestamp time) => time - Duration.FromNanoseconds((long)(drift * (time - start).Nanoseconds));
        Dictionary<OutputChange, OutputChange> moved = [];
        foreach (OutputChange change in other.Changes)
        {
            moved[change] = change with { Time = Moved(change.Time) };
            Changes.Add(moved[change]);
        }

        All = [.. other.All.Select(frame => (Moved(frame.Time), moved[frame.Carried]))];
        Last = Moved(other.Last);
        End = Moved(other.End);
    }

    /// <summary>The same with the time of a clock that runs ahead set right.</summary>
    /// <param name="drift">By which part it runs ahead.</param>
    public LineFrames WithoutDrift(double drift) => new(this, drift);

    /// <summary>Every frame.</summary>
    public List<(Timestamp Time, OutputChange Carried)> All { get; } = [];

    /// <summary>The first frame of each content.</summary>
    public List<OutputChange> Changes { get; } = [];

    /// <summary>Time of the last frame.</summary>
    public Timestamp Last { get; }

    /// <summary>The time up to which the line was watched.</summary>
    public Timestamp End { get; }
}
