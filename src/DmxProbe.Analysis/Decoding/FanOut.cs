using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Hands everything on to several analyzers, in order.</summary>
public sealed class FanOut(params IAnalyzer[] analyzers) : IAnalyzer
{
    // The first may refuse a repeat; when it has taken one, nobody behind it may.
    private readonly bool _hasShortWay = analyzers.Length > 0 && analyzers.Skip(1).All(analyzer => analyzer.TakesEveryRepeat);

    /// <inheritdoc/>
    public bool TakesEveryRepeat => _hasShortWay && analyzers[0].TakesEveryRepeat;

    /// <inheritdoc/>
    public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
    {
        if (!_hasShortWay || !analyzers[0].TryRepeat(stream, time, sequence, print, slots))
        {
            return false;
        }

        for (int i = 1; i < analyzers.Length; i++)
        {
            _ = analyzers[i].TryRepeat(stream, time, sequence, print, slots);
        }

        return true;
    }

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
