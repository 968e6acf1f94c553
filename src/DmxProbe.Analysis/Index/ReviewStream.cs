using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>One sender on one universe of a recording.</summary>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">Who sent it; its index counts the streams of the recording.</param>
public sealed record ReviewStream(UniverseId Universe, SenderSummary Sender)
{
    /// <summary>Level frames of it.</summary>
    public long Frames { get; init; }

    /// <summary>Time of the earliest; <see cref="Timestamp.MaxValue"/> where there is none.</summary>
    public Timestamp First { get; init; } = Timestamp.MaxValue;

    /// <summary>Time of the latest.</summary>
    public Timestamp Last { get; init; } = Timestamp.MinValue;

    /// <summary>What makes it the same stream in every part.</summary>
    internal (UniverseId, string) Key => (Universe, Sender.Cid.Length > 0 ? Sender.Cid : $"{Sender.Address} {Sender.Physical} {(Sender.Address.Length == 0 ? Sender.Name : "")}");
}
