using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>What a range of values of a channel does.</summary>
/// <param name="From">First value, in the resolution of the channel.</param>
/// <param name="To">Last value.</param>
/// <param name="Role">The role of its kind.</param>
/// <param name="Meaning">What the file says about it.</param>
/// <param name="Effect">The effect of its kind.</param>
/// <param name="Switches">Which channel each switching name stands for while this range holds.</param>
internal sealed record JsonCapability(long From, long To, SlotRole Role, string Meaning, RangeEffect Effect, IReadOnlyDictionary<string, string> Switches);
