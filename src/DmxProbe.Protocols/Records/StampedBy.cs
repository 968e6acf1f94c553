namespace DmxProbe.Protocols.Records;

/// <summary>Who read the clock for the records of an interface.</summary>
public enum StampedBy
{
    /// <summary>Not told: a capture file does not say.</summary>
    Unknown,

    /// <summary>The adapter's hardware clock.</summary>
    Adapter,

    /// <summary>The operating system's kernel, on arrival.</summary>
    Kernel,

    /// <summary>This program, when it read the bytes.</summary>
    OurRead,

    /// <summary>A sampling clock: times count from the start of a recording, not from 1970.</summary>
    SampleClock,
}
