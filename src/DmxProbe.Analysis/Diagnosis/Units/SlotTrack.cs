using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>
/// The slots of one stream, followed sixteen at a time: counts are kept in bytes and carried over before they can run
/// full, so that a frame in which much changes costs little more than one in which nothing does.
/// </summary>
internal sealed class SlotTrack
{
    private const int MostSlots = 512;
    private const byte LongJump = 200;
    // What is kept of sixteen slots lies together, one cache line: least, greatest, new changes, new jumps.
    private const int Together = 16;
    private const int Block = 4 * Together;
    private const int Least = 0;
    private const int Greatest = Together;
    private const int NewChanges = 2 * Together;
    private const int NewJumps = 3 * Together;
    private readonly byte[] _levels = new byte[MostSlots];
    private readonly byte[] _kept = new byte[4 * MostSlots];
    private readonly int[] _changes = new int[MostSlots];
    private readonly int[] _jumps = new int[MostSlots];
    private int _uncarried;

    /// <summary>Most slots of one frame so far.</summary>
    public int SlotsSent { get; private set; }

    /// <summary>The levels last sent.</summary>
    public ReadOnlySpan<byte> Levels => _levels.AsSpan(0, SlotsSent);

    /// <summary>Takes a frame's slots; true when any changed, or is new.</summary>
    public bool Take(ReadOnlySpan<byte> slots)
    {
        bool grew = slots.Length > SlotsSent;
        if (grew)
        {
            // Slots that come for the first time have not changed.
            slots[SlotsSent..].CopyTo(_levels.AsSpan(SlotsSent));
            for (int i = SlotsSent; i < slots.Length; i++)
            {
                Kept(i, Least) = slots[i];
                Kept(i, Greatest) = slots[i];
            }

            SlotsSent = slots.Length;
        }

        if (slots.SequenceEqual(_levels.AsSpan(0, slots.Length)))
        {
            return grew;
        }

        Follow(slots);
        if (++_uncarried == byte.MaxValue)
        {
            Carry();
        }

        return true;
    }

    /// <summary>What some slots did.</summary>
    /// <param name="first">The first of them, from 0.</param>
    /// <param name="count">How many.</param>
    public SlotActivity[] Snapshot(int first, int count)
    {
        Carry();
        SlotActivity[] slots = new SlotActivity[count];
        for (int i = 0; i < count; i++)
        {
            int slot = first + i;
            slots[i] = new SlotActivity(_levels[slot], Kept(slot, Least), Kept(slot, Greatest), _changes[slot], _jumps[slot]);
        }

        return slots;
    }

    private void Follow(ReadOnlySpan<byte> slots)
    {
        ref byte now = ref MemoryMarshal.GetReference(slots);
        ref byte before = ref _levels[0];
        ref byte kept = ref _kept[0];
        Vector128<byte> far = Vector128.Create(LongJump);
        int whole = slots.Length & ~(Vector128<byte>.Count - 1);
        for (nuint i = 0; i < (nuint)whole; i = unchecked(i + (nuint)Vector128<byte>.Count))
        {
            Vector128<byte> value = Vector128.LoadUnsafe(ref now, i), old = Vector128.LoadUnsafe(ref before, i);
            Vector128<byte> same = Vector128.Equals(value, old);
            if (same == Vector128<byte>.AllBitsSet)
            {
                continue;
            }

            Vector128<byte> high = Vector128.Max(value, old), low = Vector128.Min(value, old);
            Vector128<byte> jumped = Vector128.GreaterThan(high - low, far);
            nuint least = unchecked(i * (Block / Together));
            nuint greatest = unchecked(least + Greatest), newChanges = unchecked(least + NewChanges), newJumps = unchecked(least + NewJumps);
            Vector128.Min(Vector128.LoadUnsafe(ref kept, least), value).StoreUnsafe(ref kept, least);
            Vector128.Max(Vector128.LoadUnsafe(ref kept, greatest), value).StoreUnsafe(ref kept, greatest);
            // A mask is 255 where it holds: taking it away adds one.
            (Vector128.LoadUnsafe(ref kept, newChanges) - ~same).StoreUnsafe(ref kept, newChanges);
            (Vector128.LoadUnsafe(ref kept, newJumps) - jumped).StoreUnsafe(ref kept, newJumps);
            value.StoreUnsafe(ref before, i);
        }

        for (int i = whole; i < slots.Length; i++)
        {
            byte value = slots[i], old = _levels[i];
            if (value != old)
            {
                Kept(i, NewChanges) = unchecked((byte)(Kept(i, NewChanges) + 1));
                Kept(i, NewJumps) = unchecked((byte)(Kept(i, NewJumps) + (Math.Abs(value - old) > LongJump ? 1 : 0)));
                Kept(i, Least) = Math.Min(Kept(i, Least), value);
                Kept(i, Greatest) = Math.Max(Kept(i, Greatest), value);
                _levels[i] = value;
            }
        }
    }

    private void Carry()
    {
        for (int i = 0; i < MostSlots; i++)
        {
            _changes[i] = unchecked(_changes[i] + Kept(i, NewChanges));
            _jumps[i] = unchecked(_jumps[i] + Kept(i, NewJumps));
            Kept(i, NewChanges) = 0;
            Kept(i, NewJumps) = 0;
        }

        _uncarried = 0;
    }

    private ref byte Kept(int slot, int what) => ref _kept[(slot / Together * Block) + what + (slot % Together)];
}
