using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Reporting.Plots;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>Everything a report is made from. No clock is read: the same content gives the same page, octet for octet.</summary>
public sealed record ReportContent
{
    /// <summary>Title; may be untrusted.</summary>
    public required string Title { get; init; }

    /// <summary>Place, as the person gave it; may be empty.</summary>
    public string Place { get; init; } = "";

    /// <summary>Who made the measurements, as the person gave it; may be empty.</summary>
    public string By { get; init; } = "";

    /// <summary>The program and its version.</summary>
    public required string Instrument { get; init; }

    /// <summary>The command that makes this page again.</summary>
    public required string Command { get; init; }

    /// <summary>What was connected where, as the person told it; may be empty.</summary>
    public IReadOnlyList<string> Connected { get; init; } = [];

    /// <summary>Work-arounds in force, as the person told them; may be empty.</summary>
    public IReadOnlyList<string> Workarounds { get; init; } = [];

    /// <summary>The survey of all inputs together.</summary>
    public required SurveySnapshot Survey { get; init; }

    /// <summary>The figures of each input.</summary>
    public required IReadOnlyList<TimedInput> Timed { get; init; }

    /// <summary>Further findings, of the sheet for example; worst first.</summary>
    public IReadOnlyList<Finding> MoreFindings { get; init; } = [];

    /// <summary>Units of the sheet; empty without a sheet.</summary>
    public IReadOnlyList<ReportUnit> Units { get; init; } = [];

    /// <summary>The diagnosis; null without a sheet.</summary>
    public ReportDiagnosis? Diagnosis { get; init; }

    /// <summary>Inputs that are two taps of one moment, side by side.</summary>
    public IReadOnlyList<ReportLink> Links { get; init; } = [];

    /// <summary>What two taps of one show say, a sentence each.</summary>
    public IReadOnlyList<string> Taps { get; init; } = [];

    /// <summary>Units that were located.</summary>
    public IReadOnlyList<ReportLocate> Located { get; init; } = [];

    /// <summary>Pictures in their order.</summary>
    public IReadOnlyList<Picture> Pictures { get; init; } = [];

    /// <summary>What was not tested, a sentence each.</summary>
    public required IReadOnlyList<string> NotTested { get; init; }

    /// <summary>The files it rests on.</summary>
    public required IReadOnlyList<ReportFile> Files { get; init; }

    /// <summary>Writes times of day and spans.</summary>
    public required WallClock Clock { get; init; }

    /// <summary>How the page is to be read, a sentence each: by which clock, and what was given twice.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];
}
