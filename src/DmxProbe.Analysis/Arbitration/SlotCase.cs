using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>Who decides a slot, for one kind of receiver.</summary>
/// <param name="Condition">For which receivers.</param>
/// <param name="Senders">
/// Indexes of the senders that decide, ascending. One: it. Several: see <paramref name="Rule"/>; for
/// <see cref="WinRule.EqualPriority"/> nobody can say which. None: nobody.
/// </param>
/// <param name="Rule">Why.</param>
/// <param name="Since">Since when; null where it was so when the capture began to tell.</param>
/// <param name="Value">The level put out, 0 to 255; -1 where it is not known or cannot be decided.</param>
/// <param name="Moved">The last change of that level; null where none was seen or the universe is not followed.</param>
public sealed record SlotCase(
    WinCondition Condition,
    IReadOnlyList<int> Senders,
    WinRule Rule,
    Timestamp? Since,
    int Value,
    SlotMove? Moved)
{
    /// <summary>False where several claims are equal, so that receivers differ.</summary>
    public bool IsDecided => Rule is not (WinRule.EqualPriority or WinRule.ReservedPriority or WinRule.NotListed);
}
