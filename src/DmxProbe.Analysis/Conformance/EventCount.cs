using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Conformance;

/// <summary>How often one kind of event came from one sender on one universe.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="A">The figure that tells events of the kind apart (rule, OpCode, synchronization address, Length); else 0.</param>
/// <param name="B">The second figure of the first one.</param>
/// <param name="Universe">The universe; default where it concerns none.</param>
/// <param name="Sender">The sender; null when not known.</param>
/// <param name="Count">How often.</param>
/// <param name="First">When first.</param>
/// <param name="Last">When last.</param>
/// <param name="FirstRecord">Record of the first.</param>
/// <param name="SumOfA">Sum of the first figures, for kinds that count something (records lost).</param>
public sealed record EventCount(
    LinkEventKind Kind,
    long A,
    long B,
    UniverseId Universe,
    SenderSummary? Sender,
    long Count,
    Timestamp First,
    Timestamp Last,
    long FirstRecord,
    long SumOfA);
