namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>One page of faders that is set anew.</summary>
/// <param name="Universe">Index of the universe in the space.</param>
/// <param name="Page">Page, from 1.</param>
/// <param name="First">First slot of the page.</param>
/// <param name="Up">Slots of the page that are to be up, in order; all others of the page down.</param>
/// <param name="Level">The level they are raised to.</param>
public sealed record FaderStep(int Universe, int Page, int First, IReadOnlyList<int> Up, byte Level);
