using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// One question about the traffic: fed in order, keeps bounded state, reads no clock, does no I/O. Its snapshot is
/// taken by the typed <c>Snapshot()</c> of each analyzer. No result may depend on how often <see cref="OnTime"/> is called.
/// </summary>
public interface IAnalyzer : IFrameSink
{
    /// <summary>Time has come to <paramref name="now"/>: time-outs up to then may be judged.</summary>
    void OnTime(Timestamp now);
}
