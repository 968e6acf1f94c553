namespace DmxProbe.Protocols.Records;

/// <summary>One interface of a source: where records came in, how fine its clock is and who read it.</summary>
/// <param name="Id">Number within the source, from 0; unique over all sections of a file.</param>
/// <param name="Name">Name as the capture gives it; untrusted text, may be empty.</param>
/// <param name="Description">Description as the capture gives it; untrusted text, may be empty.</param>
/// <param name="LinkType">How the bytes of its packets start; <see cref="LinkType.None"/> where it holds no packets.</param>
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
    StampedBy StampedBy)
{
    /// <summary>What its records hold; one interface holds one kind (and <see cref="RecordKind.Loss"/>).</summary>
    public InterfaceContent Content { get; init; }

    /// <summary>
    /// Units in which <see cref="RecordKind.Edges"/> records count, per second: the sampling rate, or the clock of a
    /// file that tells times finer than it sampled. 0 for interfaces of other content.
    /// </summary>
    public long TicksPerSecond { get; init; }
}
