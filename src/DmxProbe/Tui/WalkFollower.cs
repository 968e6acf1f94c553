using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Walk;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>The function check, from when somebody begins it: before, it costs nothing.</summary>
internal sealed class WalkFollower : IAnalyzer
{
    private WalkAnalyzer? _walk;
    private IReadOnlyList<WalkTarget>? _targets;

    /// <summary>Begins, or goes on where units have been found on the wire since.</summary>
    /// <param name="targets">The units; null while nobody knows.</param>
    public void Follow(IReadOnlyList<WalkTarget>? targets)
    {
        if (targets is null || (_targets is not null && _targets.SequenceEqual(targets)))
        {
            return;
        }

        _walk = _walk is null ? new WalkAnalyzer(targets) : new WalkAnalyzer(targets, _walk.Snapshot());
        _targets = targets;
    }

    /// <summary>What was moved; null before it began.</summary>
    public WalkResult? Snapshot() => _walk?.Snapshot();

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame) => _walk?.OnFrame(in frame);

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent) => _walk?.OnEvent(in linkEvent);

    /// <inheritdoc/>
    public void OnTime(Timestamp now) => _walk?.OnTime(now);
}
