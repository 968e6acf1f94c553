using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>One change that came out of a link.</summary>
/// <param name="Time">When it came out, by the clock of the far tap.</param>
/// <param name="Latency">How much later than it went in; with a clock each, than the fastest.</param>
public readonly record struct LinkPassage(Timestamp Time, Duration Latency);
