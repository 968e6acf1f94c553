using DmxProbe.Analysis.Locate;
using DmxProbe.Reporting.Plots;

namespace DmxProbe.Reporting.Html;

/// <summary>What a report says of a unit that was located.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Answer">The answer in words.</param>
/// <param name="Picture">Trace against prediction; null where there is none.</param>
public sealed record ReportLocate(string Unit, LocateAnswer Answer, Picture? Picture);
