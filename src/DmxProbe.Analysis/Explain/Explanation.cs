using DmxProbe.Analysis.Arbitration;
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
    /// <summary>Who decides each slot of the unit, slot 1 of the mode first; empty where only one sender is there.</summary>
    public IReadOnlyList<SlotAnswer> Winners { get; init; } = [];

    /// <summary>
    /// The unit as receivers put its slots out, where its slots come from several senders or are held: one for each kind of
    /// receiver. Empty where the view of a sender in charge says it all, or nobody can tell what receivers do.
    /// </summary>
    public IReadOnlyList<PutOutView> PutOut { get; init; } = [];

    /// <summary>The senders in charge.</summary>
    public IEnumerable<SenderView> InCharge => Senders.Where(sender => sender.InCharge);

    /// <summary>The state, where all senders in charge agree on it and on the light; null where they do not.</summary>
    public UnitState? State => PutOut.Count > 0 ? PutOut.Select(view => view.Of.State).Distinct().ToArray() is [var same] ? same : null : BySender;

    private UnitState? BySender => InCharge.Select(sender => (sender.State, sender.Light, Told: sender.State == UnitState.NoLight ? string.Join("|", sender.Reasons.Select(reason => reason.Text)) : "")).Distinct().ToArray() switch
    {
        [] => UnitState.NotSent,
        [var one] => one.State,
        _ => null,
    };
}
