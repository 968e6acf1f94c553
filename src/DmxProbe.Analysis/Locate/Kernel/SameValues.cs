using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate;

/// <summary>Whether several places are not told apart because they carried the same values, and not because the evidence is thin.</summary>
internal static class SameValues
{
    /// <summary>Whether the slots that make the light carried the same values in all places, while the light was measured, or all the time without a light.</summary>
    /// <param name="places">The places.</param>
    /// <param name="question">What the inference was told.</param>
    public static bool In(IReadOnlyList<LocateCandidate> places, LocateQuestion question) =>
        places.Skip(1).All(place => AreSame(places[0].Hypothesis, place.Hypothesis, question));

    private static bool AreSame(Hypothesis one, Hypothesis other, LocateQuestion question)
    {
        ChartSlot[] ones = LightSlots(question.Modes[one.Mode]);
        ChartSlot[] others = LightSlots(question.Modes[other.Mode]);
        return ones.Length == others.Length && ones.Zip(others).All(pair => pair.First.Role == pair.Second.Role &&
            Levels(one, pair.First, question).SequenceEqual(Levels(other, pair.Second, question)));
    }

    private static ChartSlot[] LightSlots(ChartMode mode) => [.. mode.Slots.Where(slot => slot.Role
        is SlotRole.Intensity or SlotRole.Shutter or SlotRole.Red or SlotRole.Green or SlotRole.Blue
        or SlotRole.White or SlotRole.Amber or SlotRole.UltraViolet or SlotRole.OtherEmitter).OrderBy(slot => slot.Role).ThenBy(slot => slot.Slot)];

    // The level at the begin, and every change up to the end.
    private static IEnumerable<(int Sample, byte Level)> Levels(Hypothesis place, ChartSlot slot, LocateQuestion question)
    {
        SlotHistory history = question.Histories[place.History];
        int number = place.Address + slot.Slot - 1;
        if (number > SlotHistory.SlotCount)
        {
            return [];
        }

        (int from, int to) = question.Trace is { Count: > 0 } trace ? (history.SampleOf(trace.First), history.SampleOf(trace.Last)) : (0, int.MaxValue);
        return history.Changes(number).Where(change => change.Sample > from && change.Sample <= to).Prepend((from, history.LevelAt(number, from)));
    }
}
