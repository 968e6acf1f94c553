namespace DmxProbe.Protocols.Records;

/// <summary>One interface of a source: where records came in, how fine its clock is and who read it.</summary>
/// <param name="Id">Number within the source, from 0; unique over all sections of a file.</param>
/// <param name="Name">Name as the capture gives it; untrusted text, may be empty.</param>
/// <param name="Description">Description as the capture gives it; untrusted text, may be empty.</param>
/// <param name="LinkType">How the bytes of its packets start.</param>
/// <param name="SnapLength">Longest packet kept, in octets; 0 = unlimited.</param>
/// <param name="Resolution">Smallest step of its clock.</param>
/// <param name="StampedBy">Who read the clock.</param>
public sealed record CaptureInterface(
    int Id,
    string Name,
    string Description,
    LinkType LinkType,
    long SnapLength,
    Duration Resolution,
    StampedBy StampedBy);
