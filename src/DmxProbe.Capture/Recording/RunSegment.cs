namespace DmxProbe.Capture.Recording;

/// <summary>A segment on the list of a run.</summary>
/// <param name="name">Name of the file, without a folder.</param>
internal sealed class RunSegment(string name)
{
    /// <summary>Name of the file, without a folder.</summary>
    public string Name { get; } = name;

    /// <summary>Why the ring must not delete it; null while it may.</summary>
    public string? SavedFor { get; set; }

    /// <summary>Octets it had when it was closed; 0 while it is written.</summary>
    public long Octets { get; set; }

    /// <summary>When it was closed, by the clock that nobody sets; 0 while it is written.</summary>
    public long ClosedAt { get; set; }
}
