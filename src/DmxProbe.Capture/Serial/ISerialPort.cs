using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Serial;

/// <summary>An open port: the one seam between what we do with octets and how a system hands them over. Nothing is written.</summary>
internal interface ISerialPort : IDisposable
{
    /// <summary>Waits for octets and takes those that are there.</summary>
    /// <param name="target">Where to.</param>
    /// <param name="longest">Longest wait.</param>
    /// <param name="wasOverrun">True where the port or its driver lost octets since the last read.</param>
    /// <returns>How many came; 0 when none did.</returns>
    /// <exception cref="IOException">The port went away.</exception>
    int Read(Span<byte> target, Duration longest, out bool wasOverrun);
}
