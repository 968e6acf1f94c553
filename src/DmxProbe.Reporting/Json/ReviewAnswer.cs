using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>A question to a recording, and its answer.</summary>
/// <param name="First">Time of the first level frame.</param>
/// <param name="Last">Time of the last.</param>
/// <param name="ReviewFilesMade">Review files that were made for this question.</param>
/// <param name="Universe">The universe asked about; null: none.</param>
/// <param name="Slot">The slot asked about, from 1; null: none.</param>
/// <param name="At">The moment asked about; null: none.</param>
/// <param name="From">Start of the span asked about; null: none.</param>
/// <param name="To">End of the span; null: none.</param>
/// <param name="Levels">All slots at the moment.</param>
/// <param name="History">One slot at the moment or over the span.</param>
public sealed record ReviewAnswer(
    Timestamp First,
    Timestamp Last,
    int ReviewFilesMade,
    UniverseId? Universe,
    int? Slot,
    Timestamp? At,
    Timestamp? From,
    Timestamp? To,
    IReadOnlyList<ReviewLevels> Levels,
    IReadOnlyList<SlotSeries> History);
