namespace DmxProbe.Protocols.Records;

/// <summary>One file of a recording.</summary>
/// <param name="Name">Its name; untrusted text.</param>
/// <param name="Lane">Parts of one lane follow each other; lanes run beside each other (two recorders, one folder).</param>
/// <param name="Octets">Its length.</param>
/// <param name="Stamp">Together with the length says whether it is still the same file: its change time and samples of its octets.</param>
public sealed record RecordingPart(string Name, int Lane, long Octets, ulong Stamp);
