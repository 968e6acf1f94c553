using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>What a unit should be doing at a time, and why.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Mode">Its mode.</param>
/// <param name="Universe">Its universe on the wire; null when it is not in the capture.</param>
/// <param name="At">The time asked.</param>
/// <param name="Senders">As each sender drives it: those in charge first.</param>
public sealed record Explanation(PatchUnit Unit, ChartMode Mode, UniverseId? Universe, Timestamp At, IReadOnlyList<SenderView> Senders)
{
    /// <summary>The senders in charge.</summary>
    public IEnumerable<SenderView> InCharge => Senders.Where(sender => sender.InCharge);

    /// <summary>The state, where all senders in charge agree on it and on the light; null where they do not.</summary>
    public UnitState? State => InCharge.Select(sender => (sender.State, sender.Light, Told: sender.State == UnitState.NoLight ? string.Join("|", sender.Reasons.Select(reason => reason.Text)) : "")).Distinct().ToArray() switch
    {
        [] => UnitState.NotSent,
        [var one] => one.State,
        _ => null,
    };
}
