using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.Line;

/// <summary>A source of line recordings; says what it had to take for granted, so that the output can print it.</summary>
public interface ILineSource : ICaptureSource
{
    /// <summary>
    /// What was assumed because the recording does not say it or says it twice: time unit, rate, threshold, which column
    /// is time. One sentence each, starting with a capital letter and ending with a full stop; may quote names of the file,
    /// so untrusted text. Complete once the source ended; grows while reading, never changes an entry.
    /// </summary>
    IReadOnlyList<string> Assumptions { get; }
}
