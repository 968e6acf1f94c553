using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Reporting.Plots;

namespace DmxProbe.Reporting.Html;

/// <summary>Two taps of one moment in a report: what goes in beside what comes out.</summary>
/// <param name="Near">The input before the link.</param>
/// <param name="Far">The input behind it.</param>
/// <param name="Found">What was found.</param>
/// <param name="Sentence">The answer in one sentence.</param>
/// <param name="Rows">What it rests on: what, and the figures.</param>
/// <param name="Pictures">Both taps side by side.</param>
public sealed record ReportLink(
    string Near, string Far, LinkComparison Found, string Sentence, IReadOnlyList<(string What, string Figures)> Rows, IReadOnlyList<Picture> Pictures);
