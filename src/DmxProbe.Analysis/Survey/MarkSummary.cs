using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>A mark that somebody made while recording.</summary>
/// <param name="Time">When.</param>
/// <param name="Text">What it says; untrusted text.</param>
/// <param name="Record">Its record, from 1.</param>
public sealed record MarkSummary(Timestamp Time, string Text, long Record);
