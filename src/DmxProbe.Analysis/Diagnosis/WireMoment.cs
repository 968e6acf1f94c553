using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Something that happened on the wire at one moment. Names as they came: whoever shows them escapes them.</summary>
/// <param name="Time">When.</param>
/// <param name="Text">What, as a clause: <c>'main' (10.0.0.10) stops sending sACN 2</c>.</param>
public sealed record WireMoment(Timestamp Time, string Text);
