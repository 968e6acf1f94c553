using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Links;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Two inputs of one moment, the sender's side and the receiver's side, held against each other. Names as they came.</summary>
/// <param name="Near">The sender's side, as it is called.</param>
/// <param name="Far">The receiver's side, as it is called.</param>
public sealed record TwoTaps(string Near, string Far)
{
    /// <summary>Each universe of the far side against the universe of the near side that feeds it.</summary>
    public IReadOnlyList<LinkComparison> Links { get; init; } = [];

    /// <summary>For two places of a line: packet by packet; empty otherwise.</summary>
    public IReadOnlyList<SegmentComparison> Segments { get; init; } = [];

    /// <summary>For two places of a network: each sender's packets of a universe, counted at both.</summary>
    public IReadOnlyList<TapLoss> Losses { get; init; } = [];
}
