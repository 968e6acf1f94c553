using DmxProbe.Analysis.Diagnosis;

namespace DmxProbe.Reporting.Html;

/// <summary>What a diagnosis adds to a report.</summary>
/// <param name="Bad">The units called bad; empty where nobody complained.</param>
/// <param name="Result">The diagnosis.</param>
/// <param name="Open">What these inputs cannot exclude, a sentence for each input that would tell.</param>
public sealed record ReportDiagnosis(IReadOnlyList<string> Bad, DiagnosisResult Result, IReadOnlyList<string> Open);
