using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Ask;

/// <summary>
/// What is really sent, from the frames that <c>watch</c> decodes already. Fed on the thread of the analyzers, from when
/// somebody begins to ask: before, it costs nothing.
/// </summary>
internal sealed class WatchedWire : IAskWire, IAnalyzer
{
    private LatestLevels? _latest;

    /// <inheritdoc/>
    public void Start()
    {
        if (Volatile.Read(ref _latest) is null)
        {
            Volatile.Write(ref _latest, new LatestLevels());
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<byte[]>? Levels(IReadOnlyList<UniverseId> universes, IReadOnlyList<byte[]> otherwise) =>
        Volatile.Read(ref _latest) is { } latest ? IAskWire.Of(latest, universes, otherwise) : null;

    /// <inheritdoc/>
    public int Deciding(UniverseId universe) => Volatile.Read(ref _latest)?.Deciding(universe) ?? 0;

    /// <inheritdoc/>
    public bool FellSilent(UniverseId universe) => Volatile.Read(ref _latest)?.FellSilent(universe) == true;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame) => Volatile.Read(ref _latest)?.OnFrame(in frame);

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // Only levels count.
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now) => Volatile.Read(ref _latest)?.OnTime(now);
}
