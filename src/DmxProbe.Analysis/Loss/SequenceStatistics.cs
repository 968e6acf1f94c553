namespace DmxProbe.Analysis.Loss;

/// <summary>What the sequence numbers of one sender on one universe say (design: sequence accounting).</summary>
/// <param name="Counted">Packets that carried a usable sequence number.</param>
/// <param name="Lost">Packets missing between two that came, less those that came late.</param>
/// <param name="OutOfOrder">Packets that came after a later one; a conforming receiver discards them.</param>
/// <param name="Repeated">Packets with the number of the one before.</param>
/// <param name="Restarts">Jumps back by 20 or more: the sender started its count anew.</param>
public sealed record SequenceStatistics(long Counted, long Lost, long OutOfOrder, long Repeated, long Restarts)
{
    /// <summary>In how many places packets are missing; 0 where it was not counted. One place may as well be a count that was started anew.</summary>
    public long LossEvents { get; init; }
}
