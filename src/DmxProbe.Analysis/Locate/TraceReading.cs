using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>What came of reading a trace: the trace, or why it is refused.</summary>
/// <param name="Trace">The trace; null when it is refused.</param>
/// <param name="Problem">Why it is refused; null when it is not.</param>
public sealed record TraceReading(LightTrace? Trace, InputProblem? Problem);
