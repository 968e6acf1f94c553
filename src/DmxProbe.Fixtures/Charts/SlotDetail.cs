using System.Globalization;

namespace DmxProbe.Fixtures.Charts;

/// <summary>Makes a slot from its ranges in full width: the short form for 0 to 255, and the detail where that is not all.</summary>
internal static class SlotDetail
{
    private const int Steps = 256;
    private const int MaxMeaning = 400;

    /// <summary>Completes a slot whose <see cref="ChartSlot.LowSlots"/> are set.</summary>
    /// <param name="slot">The slot; its ranges are replaced.</param>
    /// <param name="ranges">The ranges in full width, those of one condition in order and without overlap.</param>
    public static ChartSlot With(ChartSlot slot, IReadOnlyList<ExactRange> ranges)
    {
        int shift = 8 * slot.LowSlots.Count;
        bool plain = ranges.Count > 0 && ranges.All(range => range.When is null && IsStep(range.From, shift) && IsStep(range.To + 1, shift)) && Covers(ranges, shift);
        return plain
            ? slot with { Ranges = [.. ranges.Select(range => new ChartRange((int)(range.From >> shift), (int)(range.To >> shift), range.Meaning, range.Effect))], Exact = [] }
            : slot with { Ranges = Short(ranges, shift), Exact = ranges };
    }

    /// <summary>The conditions of a slot in the order of the chart.</summary>
    public static IReadOnlyList<SlotCondition> Conditions(ChartSlot slot) => [.. slot.Exact.Where(range => range.When is not null).Select(range => range.When!).Distinct()];

    /// <summary>The slot as it is while a condition holds, or while none does (null): without conditions.</summary>
    public static ChartSlot While(ChartSlot slot, SlotCondition? when)
    {
        int shift = 8 * slot.LowSlots.Count;
        long top = ((long)Steps << shift) - 1;
        List<ExactRange> held = [.. slot.Exact.Where(range => range.When is null || range.When == when)];
        List<ExactRange> ranges = [];
        long at = 0;
        while (at <= top)
        {
            ExactRange? here = held.FirstOrDefault(range => range.When is not null && range.From <= at && at <= range.To)
                ?? held.FirstOrDefault(range => range.When is null && range.From <= at && at <= range.To);
            long end = here?.To ?? top;
            foreach (ExactRange other in held)
            {
                if (other.From > at && other.From <= end && (here is null || (other.When is not null && here.When is null)))
                {
                    end = other.From - 1;
                }
            }

            ranges.Add(here is null ? new ExactRange(at, end, "", RangeEffect.Unknown) : here with { From = at, To = end, When = null });
            at = end + 1;
        }

        return With(slot, ranges) with { Exact = [] };
    }

    private static bool IsStep(long value, int shift) => (value & ((1L << shift) - 1)) == 0;

    private static bool Covers(IReadOnlyList<ExactRange> ranges, int shift)
    {
        long next = 0;
        foreach (ExactRange range in ranges)
        {
            if (range.From != next)
            {
                return false;
            }

            next = range.To + 1;
        }

        return next == (long)Steps << shift;
    }

    private static List<ChartRange> Short(IReadOnlyList<ExactRange> ranges, int shift)
    {
        List<List<ExactRange>> layers = [.. ranges.GroupBy(range => range.When).Select(layer => layer.ToList())];
        bool whole = layers.Any(layer => layer[0].When is null) || CoversAll([.. layers.Select(layer => layer[0].When!)]);
        List<ChartRange> made = [];
        int[] last = [];
        for (int step = 0; step < Steps; step++)
        {
            int[] here = [.. layers.Select(layer => Main(ranges, layer, (long)step << shift, ((long)(step + 1) << shift) - 1))];
            if (step > 0 && here.AsSpan().SequenceEqual(last))
            {
                made[^1] = made[^1] with { To = step };
            }
            else
            {
                made.Add(Joined(ranges, layers, here, whole, step));
            }

            last = here;
        }

        return made;
    }

    /// <summary>The range that has most of a step of the high byte; one that is dangerous goes before all others. -1 for none.</summary>
    private static int Main(IReadOnlyList<ExactRange> ranges, List<ExactRange> layer, long from, long to)
    {
        ExactRange? main = null;
        long most = 0;
        foreach (ExactRange range in layer)
        {
            long share = Math.Min(range.To, to) - Math.Max(range.From, from) + 1;
            if (share > 0 && Danger(range.Effect))
            {
                share = long.MaxValue;
            }

            if (share > most)
            {
                (main, most) = (range, share);
            }
        }

        return main is null ? -1 : ranges.TakeWhile(range => !ReferenceEquals(range, main)).Count();
    }

    private static bool Danger(RangeEffect effect) => effect is RangeEffect.Unknown or RangeEffect.ControlAction or RangeEffect.ProgrammeRuns;

    private static ChartRange Joined(IReadOnlyList<ExactRange> ranges, List<List<ExactRange>> layers, int[] here, bool whole, int step)
    {
        List<ExactRange> said = [.. here.Where(index => index >= 0).Select(index => ranges[index])];
        if (said.Count == 0)
        {
            return new ChartRange(step, step, "", RangeEffect.Unknown);
        }

        if (layers.Count == 1 && said[0].When is null)
        {
            return new ChartRange(step, step, said[0].Meaning, said[0].Effect);
        }

        RangeEffect effect = whole && here.All(index => index >= 0) && said.TrueForAll(range => range.Effect == said[0].Effect) ? said[0].Effect : RangeEffect.Unknown;
        string meaning = said.Select(range => range.Meaning).Distinct(StringComparer.Ordinal).Count() == 1 && effect != RangeEffect.Unknown
            ? said[0].Meaning
            : string.Join("; ", said.Select(range => Words(range.When) + (range.Meaning.Length > 0 ? range.Meaning : "its function")));
        return new ChartRange(step, step, meaning.Length > MaxMeaning ? meaning[..MaxMeaning] + "..." : meaning, effect);
    }

    private static string Words(SlotCondition? when) => when is null
        ? "else: "
        : when.From == when.To
            ? string.Create(CultureInfo.InvariantCulture, $"while slot {when.Slot} is {when.From}: ")
            : string.Create(CultureInfo.InvariantCulture, $"while slot {when.Slot} is {when.From} to {when.To}: ");

    /// <summary>Whether one of the conditions always holds: all of one slot, from 0 to its top without a gap.</summary>
    private static bool CoversAll(List<SlotCondition> conditions)
    {
        long next = 0;
        foreach (SlotCondition condition in conditions.OrderBy(condition => condition.From))
        {
            if (condition.Slot != conditions[0].Slot || condition.From > next)
            {
                return false;
            }

            next = Math.Max(next, condition.To + 1);
        }

        return next is 1L << 8 or 1L << 16 or 1L << 24 or 1L << 32;
    }
}
