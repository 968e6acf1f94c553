using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What the bad units have in common.</summary>
/// <param name="Kind">By what: what they are told, moment, chain, addresses, universe, high slots, type, circuit, wireless, position, function.</param>
/// <param name="Text">What they share, as a phrase: <c>all after LX2-3 in chain 'stage left'</c>.</param>
/// <param name="Gain">How much of the question it answers, share of the uncertainty (0 to 1).</param>
/// <param name="Units">The units it names, bad or not.</param>
/// <param name="Check">The check that follows; null when none does.</param>
public sealed record UnitGroup(UnitGroupKind Kind, string Text, double Gain, IReadOnlyList<string> Units, NextCheck? Check)
{
    /// <summary>For <see cref="UnitGroupKind.Moment"/>: when the first of them changed; null for every other kind.</summary>
    public Timestamp? At { get; init; }

    /// <summary>What happened on the wire within seconds of that, by time.</summary>
    public IReadOnlyList<WireMoment> Then { get; init; } = [];
}
