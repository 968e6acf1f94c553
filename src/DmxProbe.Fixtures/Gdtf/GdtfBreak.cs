namespace DmxProbe.Fixtures.Gdtf;

/// <summary>A break of a geometry reference.</summary>
/// <param name="Number">The break, from 1.</param>
/// <param name="Offset">First slot in it, from 1.</param>
internal sealed record GdtfBreak(int Number, long Offset);
