namespace DmxProbe.Fixtures.Gdtf;

/// <summary>One place of a geometry in the tree of a mode.</summary>
/// <param name="Path">Its names from the top of the tree.</param>
/// <param name="Cell">Name of the innermost reference it is under; empty when it is under none.</param>
/// <param name="References">The references it is under, the innermost first: their breaks in order.</param>
internal sealed record GdtfInstance(string Path, string Cell, IReadOnlyList<IReadOnlyList<GdtfBreak>> References)
{
    /// <summary>Whether it stands above another in the tree: what is set here reaches down to there.</summary>
    public bool IsAbove(GdtfInstance other) => other.Path.Length > Path.Length && other.Path.StartsWith(Path + "\n", StringComparison.Ordinal);

    /// <summary>Break and first slot of a channel here.</summary>
    /// <param name="dmxBreak">Break of the channel; null for the one of the reference (Overwrite).</param>
    /// <param name="offset">Offset of the channel, from 1.</param>
    public (int Break, long Offset) Place(int? dmxBreak, long offset)
    {
        foreach (IReadOnlyList<GdtfBreak> breaks in References)
        {
            // The reference's last break is the one that channels with Overwrite take.
            GdtfBreak? taken = dmxBreak is null ? (breaks.Count > 0 ? breaks[^1] : null) : breaks.FirstOrDefault(known => known.Number == dmxBreak);
            if (taken is not null)
            {
                dmxBreak = taken.Number;
                offset += taken.Offset - 1;
            }
        }

        return (dmxBreak ?? 1, offset);
    }
}
