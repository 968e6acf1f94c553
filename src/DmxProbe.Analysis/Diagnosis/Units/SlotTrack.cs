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
    private readonly byte[] _levels = new byte[MostSlots];
    private readonly byte[] _least = new byte[MostSlots];
    private readonly byte[] _greatest = new byte[MostSlots];
    private readonly byte[] _newChanges = new byte[MostSlots];
    private readonly byte[] _newJumps = new byte[MostSlots];
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
            ReadOnlySpan<byte> more = slots[SlotsSent..];
            more.CopyTo(_levels.AsSpan(SlotsSent));
            more.CopyTo(_least.AsSpan(SlotsSent));
            more.CopyTo(_greatest.AsSpan(SlotsSent));
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
            slots[i] = new SlotActivity(_levels[first + i], _least[first + i], _greatest[first + i], _changes[first + i], _jumps[first + i]);
        }

        return slots;
    }

    private void Follow(ReadOnlySpan<byte> slots)
    {
        ref byte now = ref MemoryMarshal.GetReference(slots);
        ref byte before = ref _levels[0];
        Vector128<byte> far = Vector128.Create(LongJump);
        int whole = slots.Length & ~(Vector128<byte>.Count - 1);
        for (nuint i = 0; i < (nuint)whole; i += (nuint)Vector128<byte>.Count)
        {
            Vector128<byte> value = Vector128.LoadUnsafe(ref now, i), old = Vector128.LoadUnsafe(ref before, i);
            Vector128<byte> same = Vector128.Equals(value, old);
            if (same == Vector128<byte>.AllBitsSet)
            {
                continue;
            }

            Vector128<byte> high = Vector128.Max(value, old), low = Vector128.Min(value, old);
            Vector128<byte> jumped = Vector128.GreaterThan(high - low, far);
            // A mask is 255 where it holds: taking it away adds one.
            (Vector128.LoadUnsafe(ref _newChanges[0], i) - ~same).StoreUnsafe(ref _newChanges[0], i);
            (Vector128.LoadUnsafe(ref _newJumps[0], i) - jumped).StoreUnsafe(ref _newJumps[0], i);
            Vector128.Min(Vector128.LoadUnsafe(ref _least[0], i), value).StoreUnsafe(ref _least[0], i);
            Vector128.Max(Vector128.LoadUnsafe(ref _greatest[0], i), value).StoreUnsafe(ref _greatest[0], i);
            value.StoreUnsafe(ref before, i);
        }

        for (int i = whole; i < slots.Length; i++)
        {
            byte value = slots[i], old = _levels[i];
            if (value != old)
            {
                _newChanges[i] = unchecked((byte)(_newChanges[i] + 1));
                _newJumps[i] = unchecked((byte)(_newJumps[i] + (Math.Abs(value - old) > LongJump ? 1 : 0)));
                _least[i] = Math.Min(_least[i], value);
                _greatest[i] = Math.Max(_greatest[i], value);
                _levels[i] = value;
            }
        }
    }

    private void Carry()
    {
        for (int i = 0; i < MostSlots; i++)
        {
            _changes[i] = unchecked(_changes[i] + _newChanges[i]);
            _jumps[i] = unchecked(_jumps[i] + _newJumps[i]);
        }

        Array.Clear(_newChanges);
        Array.Clear(_newJumps);
        _uncarried = 0;
    }
}
