using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>From one moment on other senders decide a range of slots.</summary>
/// <param name="Time">When it took effect.</param>
/// <param name="FromSlot">First slot, 1 to 512.</param>
/// <param name="ToSlot">Last slot.</param>
/// <param name="Condition">For which receivers.</param>
/// <param name="Before">Indexes of the senders that decided before, ascending; none: nobody.</param>
/// <param name="After">Those that decide now.</param>
/// <param name="Rule">Why those.</param>
/// <param name="Cause">What made it change.</param>
/// <param name="CausedBy">Index of the sender that caused it; -1 when none did.</param>
public sealed record WinnerChange(
    Timestamp Time,
    int FromSlot,
    int ToSlot,
    WinCondition Condition,
    IReadOnlyList<int> Before,
    IReadOnlyList<int> After,
    WinRule Rule,
    ChangeCause Cause,
    int CausedBy);
