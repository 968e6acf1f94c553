using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Hands everything on to several analyzers, in order.</summary>
public sealed class FanOut(params IAnalyzer[] analyzers) : IAnalyzer
{
    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        foreach (IAnalyzer analyzer in analyzers)
        {
            analyzer.OnFrame(in frame);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        foreach (IAnalyzer analyzer in analyzers)
        {
            analyzer.OnEvent(in linkEvent);
        }
    }

    /// <inheritdoc/>
    public void OnNetworkPacket(in NetworkPacket packet)
    {
        foreach (IAnalyzer analyzer in analyzers)
        {
            analyzer.OnNetworkPacket(in packet);
        }
    }

    /// <inheritdoc/>
    public void OnLineTiming(in LineTiming timing)
    {
        foreach (IAnalyzer analyzer in analyzers)
        {
            analyzer.OnLineTiming(in timing);
        }
    }

    /// <inheritdoc/>
    public void OnRdm(in RdmTraffic traffic)
    {
        foreach (IAnalyzer analyzer in analyzers)
        {
            analyzer.OnRdm(in traffic);
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        foreach (IAnalyzer analyzer in analyzers)
        {
            analyzer.OnTime(now);
        }
    }
}
