using DmxProbe.Analysis.Timing;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>
/// Everything a timing record is made from. No clock is read and no folder named: the same files and options give the same page,
/// octet for octet, wherever the files are.
/// </summary>
public sealed record TimingRecordContent
{
    /// <summary>Title; may be untrusted.</summary>
    public required string Title { get; init; }

    /// <summary>Place, as the person gave it; may be empty.</summary>
    public string Place { get; init; } = "";

    /// <summary>Who measured, as the person gave it; may be empty.</summary>
    public string By { get; init; } = "";

    /// <summary>What was connected where, as the person told it; may be empty.</summary>
    public IReadOnlyList<string> Connected { get; init; } = [];

    /// <summary>The program and its version.</summary>
    public required string Instrument { get; init; }

    /// <summary>The command that makes this page again, without folders.</summary>
    public required string Command { get; init; }

    /// <summary>Options in force, given or not: name, value, what it does.</summary>
    public required IReadOnlyList<(string Name, string Value, bool IsGiven)> Options { get; init; }

    /// <summary>The figures of each input, named without its folder.</summary>
    public required IReadOnlyList<TimedInput> Timed { get; init; }

    /// <summary>What each channel of a line recording was taken for, a sentence each.</summary>
    public IReadOnlyList<string> Channels { get; init; } = [];

    /// <summary>What two taps say of each other, a sentence each.</summary>
    public IReadOnlyList<string> Taps { get; init; } = [];

    /// <summary>What was not tested, a sentence each.</summary>
    public required IReadOnlyList<string> NotTested { get; init; }

    /// <summary>The files it rests on.</summary>
    public required IReadOnlyList<ReportFile> Files { get; init; }

    /// <summary>Writes times of day and spans.</summary>
    public required WallClock Clock { get; init; }
}
