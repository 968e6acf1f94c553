using System.Globalization;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What was asked for against what stands on the wire.</summary>
/// <param name="Missing">Slots that were to be up, and stand at less than half of that.</param>
/// <param name="Extra">Slots of light that are up, and were to be down.</param>
/// <param name="Asked">How many slots were to be up.</param>
public sealed record WireCheck(IReadOnlyList<RaisedSlot> Missing, IReadOnlyList<RaisedSlot> Extra, int Asked)
{
    // A fader at its stop may send a few counts.
    private const int Down = 8;

    /// <summary>Whether nothing of what was asked for is up.</summary>
    public bool IsNothingUp => Asked > 0 && Missing.Count == Asked;

    /// <summary>Compares.</summary>
    /// <param name="question">What was asked for.</param>
    /// <param name="wire">The levels on the wire.</param>
    /// <param name="safety">Which slots are light.</param>
    public static WireCheck Of(AskQuestion question, IReadOnlyList<byte[]> wire, AskSafety safety)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(wire);
        ArgumentNullException.ThrowIfNull(safety);
        HashSet<(int, int)> asked = [.. question.Raised.Select(slot => (slot.Universe, slot.Slot))];
        return new WireCheck(
            [.. question.Raised.Where(slot => wire[slot.Universe][slot.Slot - 1] < slot.Level / 2)],
            [.. safety.Up(wire).Where(slot => slot.Level > Down && !asked.Contains((slot.Universe, slot.Slot)))],
            asked.Count);
    }

    /// <summary>The difference in words; empty where there is none.</summary>
    public string Words(AskRig rig)
    {
        string missing = Missing.Count == 0 ? "" : $"{Slots(rig, Missing)} {(Missing.Count == 1 ? "is" : "are")} not up";
        string extra = Extra.Count == 0 ? "" : $"{Slots(rig, Extra)} {(Extra.Count == 1 ? "is" : "are")} up too";
        return missing.Length + extra.Length == 0 ? "" : "On the wire " + string.Join(", and ", new[] { missing, extra }.Where(part => part.Length > 0));
    }

    private static string Slots(AskRig rig, IReadOnlyList<RaisedSlot> slots)
    {
        const int few = 6;
        int runs = SlotRuns.Of(slots).Count;
        return runs <= few ? AskWords.Slots(rig, slots) : string.Create(CultureInfo.InvariantCulture, $"{AskWords.Slots(rig, [slots[0]])} and {slots.Count - 1} slots more");
    }
}
