using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Timing;

/// <summary>One input and everything measured on it.</summary>
/// <param name="Input">Its name as the person gave it; untrusted text.</param>
/// <param name="Figures">The figures.</param>
public sealed record TimedInput(string Input, IReadOnlyList<TimingMeasurement> Figures)
{
    /// <summary>What it is: its interfaces, who stamped, how many records, from when to when; more than one where it merges several.</summary>
    public IReadOnlyList<InputSummary> Inputs { get; init; } = [];

    /// <summary>Channels of a line recording; empty for other inputs.</summary>
    public IReadOnlyList<LineChannelSummary> Lines { get; init; } = [];

    /// <summary>Its level frames, for comparing it with another tap; null where it is the only input.</summary>
    public TapRecording? Tap { get; init; }

    /// <summary>What its reader had to take for granted; untrusted text.</summary>
    public IReadOnlyList<string> Assumptions { get; init; } = [];

    /// <summary>Why it ended early; empty when it is whole.</summary>
    public string Cut { get; init; } = "";

    /// <summary>Error of its clock that was assumed, parts per million.</summary>
    public double ClockPpm { get; init; } = NetworkTiming.DefaultClockPpm;
}
