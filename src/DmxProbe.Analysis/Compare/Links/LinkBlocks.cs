namespace DmxProbe.Analysis.Compare.Links;

/// <summary>Lays one tap over the other where no frame is wholly alike, because some slots always differ: by parts of the frames.</summary>
internal static class LinkBlocks
{
    private const int Blocks = 16;

    /// <summary>Finds the offset that most parts agree on; null where none is found.</summary>
    public static TapAlignment? Find(IReadOnlyList<OutputChange> near, IReadOnlyList<OutputChange> far, int slots)
    {
        int length = Math.Max(1, (slots + Blocks - 1) / Blocks);
        List<TapAlignment> found = [];
        for (int from = 0; from < slots; from += length)
        {
            int count = Math.Min(length, slots - from);
            if (TapAlignment.Find(Part(near, from, count), Part(far, from, count)) is TapAlignment alignment)
            {
                found.Add(alignment);
            }
        }

        if (found.Count == 0)
        {
            return null;
        }

        // The offset that has most other parts near it; parts find the least difference each, so the least of those near is taken.
        TapAlignment best = found.MaxBy(one => Near(found, one).Sum(each => each.Matched));
        List<TapAlignment> agreed = Near(found, best);
        return new TapAlignment(agreed.Min(each => each.Offset), agreed.Sum(each => each.Matched) / found.Count);
    }

    private static List<TapAlignment> Near(List<TapAlignment> all, TapAlignment one) =>
        [.. all.Where(each => Math.Abs((each.Offset - one.Offset).Nanoseconds) <= TapAlignment.Window.Nanoseconds / 4)];

    private static List<OutputChange> Part(IReadOnlyList<OutputChange> changes, int from, int count)
    {
        List<OutputChange> part = [];
        foreach (OutputChange change in changes)
        {
            byte[] slots = change.Slots[from..(from + count)];
            if (part.Count == 0 || !slots.AsSpan().SequenceEqual(part[^1].Slots))
            {
                part.Add(new OutputChange(change.Time, slots, SlotHash.Of(slots, count)));
            }
        }

        return part;
    }
}
