using DmxProbe.Protocols.Line;

namespace DmxProbe.Testing.Lines;

/// <summary>One channel over the whole recording: its level at the start and every change.</summary>
public sealed class LineTrack
{
    private readonly List<(long Tick, LineLevel Level)> _changes = [];
    private LineLevel _level;

    /// <summary>The level from the first tick on, then every change of level: its tick and the level from there on.</summary>
    public IReadOnlyList<(long Tick, LineLevel Level)> Changes => _changes;

    /// <summary>Tick where the recording of the channel ends.</summary>
    public long End { get; private set; }

    /// <summary>Whether the last run came.</summary>
    public bool Ended { get; private set; }

    /// <summary>The changes as text: <c>0H 20L 112H end 212</c>.</summary>
    public override string ToString() =>
        string.Join(' ', _changes.Select(change => $"{change.Tick}{"LH?"[(int)change.Level]}")) + " end " + End;

    internal void Add(in EdgeRun run)
    {
        LineReading.Keep(!Ended, "nothing after the last run");
        LineReading.Keep(run.Flags.HasFlag(EdgeRunFlags.Gap) == (_changes.Count == 0), "a gap before the first run only");
        LineReading.Keep(run.StartTick == End, "a run that starts where the one before ended");
        LineReading.Keep(run.Steps.Length <= 68_000, "runs of bounded size");
        if (_changes.Count == 0 || run.StartLevel != _level)
        {
            LineReading.Keep(
                _changes.Count == 0 || run.StartLevel == LineLevel.Unknown || _level == LineLevel.Unknown,
                "edges inside runs, not between them");
            Turn(run.StartTick, run.StartLevel);
        }

        long at = run.StartTick;
        foreach (uint step in run.Steps)
        {
            at += step;
            if (step != EdgeRun.NoEdge)
            {
                LineReading.Keep(_changes[^1].Tick < at, "edges at least a tick apart");
                Turn(at, _level ^ LineLevel.High);
            }
        }

        End = at + run.Tail;
        Ended = run.Flags.HasFlag(EdgeRunFlags.Last);
    }

    private void Turn(long tick, LineLevel level)
    {
        _changes.Add((tick, level));
        _level = level;
    }
}
