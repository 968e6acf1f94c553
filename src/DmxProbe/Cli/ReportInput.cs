using DmxProbe.Analysis.OverTime;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Cli;

/// <summary>One input of a report, read once.</summary>
/// <param name="Name">As the person named it.</param>
/// <param name="IsLine">Whether it is a recording of a line.</param>
/// <param name="Survey">Its survey.</param>
/// <param name="Timed">Its figures.</param>
/// <param name="OverTime">Its frames span by span.</param>
internal sealed record ReportInput(string Name, bool IsLine, SurveySnapshot Survey, TimedInput Timed, OverTimeSnapshot OverTime);
