using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Something in the traffic that is not a frame. What it means is turned into words only when shown.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="Time">When.</param>
/// <param name="Record">Number of the record.</param>
/// <param name="Sender">Index in <see cref="SenderTable"/>, or -1.</param>
/// <param name="Universe">The universe it concerns; default where it concerns none.</param>
/// <param name="A">First figure, by kind.</param>
/// <param name="B">Second figure, by kind.</param>
public readonly record struct LinkEvent(
    LinkEventKind Kind,
    Timestamp Time,
    long Record,
    int Sender,
    UniverseId Universe,
    long A,
    long B);
