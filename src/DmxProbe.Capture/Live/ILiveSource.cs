using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Live;

/// <summary>A source that never ends by itself.</summary>
public interface ILiveSource : ICaptureSource
{
    /// <summary>
    /// Asks it to end: what has arrived by now is still delivered, then what was lost, then <see cref="ReadStatus.End"/>.
    /// May be called on any thread, also more than once.
    /// </summary>
    void Stop();
}
