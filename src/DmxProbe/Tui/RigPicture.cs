using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Walk;
using DmxProbe.Cli;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>Everything a view may show, as it was at one moment; immutable.</summary>
/// <param name="At">The moment.</param>
/// <param name="Survey">The survey up to it.</param>
/// <param name="Universes">The universes, the ones in trouble first.</param>
/// <param name="Ended">True when the input has ended.</param>
internal sealed record RigPicture(Timestamp At, SurveySnapshot Survey, IReadOnlyList<UniversePicture> Universes, bool Ended)
{
    // Times are shown to a millisecond.
    private static readonly Duration Slack = Duration.FromMilliseconds(1);
    private IReadOnlyList<TimingMeasurement>? _timing;

    /// <summary>Whether it is a moment of a recording whose survey is of the whole of it.</summary>
    public bool IsReview { get; init; }

    /// <summary>The worst finding, in a recording the worst of this moment; null when nothing is wrong.</summary>
    public Finding? Worst => Survey.Findings.FirstOrDefault(IsNow);

    /// <summary>Whether a finding is about this moment; live every one is.</summary>
    public bool IsNow(Finding finding) => !IsReview || (finding.From <= At && At <= finding.To + Slack);

    /// <summary>Which universe of the wire each universe of the sheet is; null without a sheet.</summary>
    public UniverseMap? Map { get; init; }

    /// <summary>The unit that was wished; null when none was.</summary>
    public UnitPicture? Unit { get; init; }

    /// <summary>What was moved since the function check began; null before, and without a sheet.</summary>
    public WalkResult? Walk { get; init; }

    /// <summary>Whether a finding is about a universe: its subject is the label, alone or with a name behind it.</summary>
    public static bool IsAbout(Finding finding, UniverseId universe) =>
        finding.Subject == universe.Label || finding.Subject.StartsWith(universe.Label + " ", StringComparison.Ordinal);

    /// <summary>The figures that <c>timing</c> tells, made when a view asks for them.</summary>
    public IReadOnlyList<TimingMeasurement> Timing => _timing ??= [.. Survey.LineFigures, .. NetworkTiming.Measure(Survey)];
}
