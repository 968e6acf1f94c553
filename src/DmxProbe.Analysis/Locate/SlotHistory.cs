using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// The levels of one universe as one sender sent them, on a common grid of <see cref="RatePerSecond"/> samples a second
/// that starts at <see cref="Start"/>. Only changes are kept: two bytes for each, four more after a long rest.
/// </summary>
public sealed class SlotHistory
{
    /// <summary>Samples a second of the grid that histories and traces share.</summary>
    public const int RatePerSecond = 30;

    /// <summary>Slots of a universe.</summary>
    public const int SlotCount = 512;

    private readonly SlotChanges[] _slots = new SlotChanges[SlotCount];

    /// <summary>Makes an empty history; every slot is 0 until it is recorded.</summary>
    /// <param name="universe">The universe.</param>
    /// <param name="sender">Index of the sender in the sender table, or -1.</param>
    /// <param name="start">The moment of sample 0; the same for all histories that are used together.</param>
    public SlotHistory(UniverseId universe, int sender, Timestamp start)
    {
        Universe = universe;
        Sender = sender;
        Start = start;
        for (int i = 0; i < SlotCount; i++)
        {
            _slots[i] = new SlotChanges();
        }
    }

    /// <summary>The universe.</summary>
    public UniverseId Universe { get; }

    /// <summary>Index of the sender in the sender table, or -1.</summary>
    public int Sender { get; }

    /// <summary>The moment of sample 0.</summary>
    public Timestamp Start { get; }

    /// <summary>Samples covered: one more than the last sample recorded.</summary>
    public int Samples { get; private set; }

    /// <summary>The most slots that any frame carried, 0 to 512.</summary>
    public int SlotsSent { get; private set; }

    /// <summary>Records the levels that hold from a moment on. Moments before <see cref="Start"/> count as sample 0.</summary>
    /// <param name="time">When they arrived; not before the time of the call before.</param>
    /// <param name="slots">Slot 1 first; slots that are missing keep their level.</param>
    public void Record(Timestamp time, ReadOnlySpan<byte> slots) => Record(SampleOf(time), slots);

    /// <summary>Records the levels that hold from a sample on.</summary>
    /// <param name="sample">The sample, not below that of the call before.</param>
    /// <param name="slots">Slot 1 first; slots that are missing keep their level.</param>
    public void Record(int sample, ReadOnlySpan<byte> slots)
    {
        sample = Math.Max(sample, Samples - 1);
        Samples = Math.Max(Samples, sample + 1);
        int count = Math.Min(slots.Length, SlotCount);
        SlotsSent = Math.Max(SlotsSent, count);
        for (int i = 0; i < count; i++)
        {
            if (_slots[i].Current != slots[i])
            {
                _slots[i].Add(sample, slots[i]);
            }
        }
    }

    /// <summary>States that the levels held up to and including a sample.</summary>
    /// <param name="sample">The sample.</param>
    public void ExtendTo(int sample) => Samples = Math.Max(Samples, sample + 1);

    /// <summary>The sample from which something that arrives at a moment is in force.</summary>
    public int SampleOf(Timestamp time)
    {
        double samples = Math.Ceiling((time - Start).TotalSeconds * RatePerSecond);
        return (int)Math.Clamp(samples, 0, int.MaxValue / 2);
    }

    /// <summary>The level of a slot at a sample.</summary>
    /// <param name="slot">1 to 512.</param>
    /// <param name="sample">From 0; after the end the last level holds.</param>
    public byte LevelAt(int slot, int sample)
    {
        byte level = 0;
        foreach ((int at, byte value) in Changes(slot))
        {
            if (at > sample)
            {
                break;
            }

            level = value;
        }

        return level;
    }

    /// <summary>The changes of a slot in order; before the first one it is 0.</summary>
    /// <param name="slot">1 to 512.</param>
    public IEnumerable<(int Sample, byte Level)> Changes(int slot)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(slot, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(slot, SlotCount);
        return _slots[slot - 1].Read();
    }

    internal SlotChanges this[int index] => _slots[index];
}
