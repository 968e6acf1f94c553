using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>One loss of all senders and what the line did.</summary>
/// <param name="At">Last packet of the last sender, in the network tap's time.</param>
/// <param name="Outcome">What the line did first.</param>
/// <param name="After">How long after that packet it did it; for <see cref="AfterLoss.Holds"/>, how long it was watched.</param>
public sealed record LossObservation(Timestamp At, AfterLoss Outcome, Duration After);
