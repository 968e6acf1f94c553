using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Serial;

/// <summary>How a serial port is listened to, beyond <see cref="Live.LiveSettings"/>.</summary>
public sealed record SerialOptions
{
    /// <summary>What is used when nobody says otherwise.</summary>
    public static SerialOptions Usual { get; } = new();

    /// <summary>Bits a second of a framed interface; those on USB take any figure. 57,600, from memory.</summary>
    public int FramedBitsPerSecond { get; init; } = 57_600;

    /// <summary>
    /// Whether the system is asked to mark breaks and framing errors of a bare port. A test that writes the marks itself says
    /// no: a pseudo terminal carries no break and would double each FF.
    /// </summary>
    public bool AskForMarks { get; init; } = true;

    /// <summary>Longest wait for octets before <see cref="ReadStatus.Idle"/> is given.</summary>
    public Duration LongestWait { get; init; } = Duration.FromMilliseconds(20);

    /// <summary>How often a port that went away is looked for.</summary>
    public Duration LookAgainEvery { get; init; } = Duration.FromMilliseconds(500);
}
