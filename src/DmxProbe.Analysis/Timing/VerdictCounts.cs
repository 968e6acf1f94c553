namespace DmxProbe.Analysis.Timing;

/// <summary>In how many packets a figure stood how, each packet judged by itself by <see cref="LimitRule"/>.</summary>
/// <param name="Inside">Inside the limits.</param>
/// <param name="OutsideTransmit">Outside what may be sent, inside what must be accepted.</param>
/// <param name="OutsideReceive">Outside what must be accepted.</param>
/// <param name="Undecided">Nearer to a limit than the measurement is fine.</param>
public sealed record VerdictCounts(long Inside, long OutsideTransmit, long OutsideReceive, long Undecided)
{
    /// <summary>All of them.</summary>
    public long All => Inside + OutsideTransmit + OutsideReceive + Undecided;
}
