using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>
/// Finds where samples differ from the one before, in two passes over a piece that stays in the first cache: one notes the
/// blocks of 64 octets in which something changes, without a branch, the other turns those changes into edges. Stretches
/// where nothing changes cost the loads and no more; there are branches for vectors of 512, 256 and 128 bit.
/// </summary>
/// <param name="unit">Octets of a sample, 1 to 8; bit i of octet n is line 8n + i.</param>
/// <param name="channelOfBit">Channel of each of the 8 x unit lines; -1 for those not wanted.</param>
/// <param name="slice">Where the edges go.</param>
internal sealed class SampleEdges(int unit, int[] channelOfBit, EdgeSlice slice)
{
    private const int Block = 64; // octets whose changes fit one 64-bit mask
    private const int PieceBlocks = 256;

    private readonly byte[] _mask = MaskOf(unit, channelOfBit);
    private readonly bool _maskFits = Block % unit == 0;
    private readonly int[] _blocks = new int[PieceBlocks];

    /// <summary>Finds the edges of samples that follow a sample already known.</summary>
    /// <param name="octets">The sample before, then those to be looked at: a whole number of units.</param>
    /// <param name="firstTick">Tick of the first sample to be looked at.</param>
    public void Find(ReadOnlySpan<byte> octets, long firstTick)
    {
        ref byte start = ref MemoryMarshal.GetReference(octets);
        int end = octets.Length;
        int at = unit;
        while (_maskFits && end - at >= Block)
        {
            int piece = Math.Min(PieceBlocks, (end - at) / Block);
            int busy = Note(ref Unsafe.Add(ref start, at), piece);
            for (int i = 0; i < busy; i++)
            {
                int block = at + (_blocks[i] * Block);
                for (ulong changed = ChangesOf(ref Unsafe.Add(ref start, block)); changed != 0; changed &= unchecked(changed - 1))
                {
                    int place = block + BitOperations.TrailingZeroCount(changed);
                    Turn(ref Unsafe.Add(ref start, place), place, firstTick);
                }
            }

            at += piece * Block;
        }

        for (; at < end; at++)
        {
            if (octets[at] != octets[at - unit])
            {
                Turn(ref Unsafe.Add(ref start, at), at, firstTick);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Turn(ref byte at, int place, long firstTick)
    {
        // A slice is at most a quarter second of 10 GHz, so a step always fits 32 bit.
        unchecked
        {
            int sample = unit == 1 ? place - 1 : (place / unit) - 1;
            int octet = unit == 1 ? 0 : place % unit;
            uint lines = (uint)((at ^ Unsafe.Subtract(ref at, unit)) & _mask[octet]);
            slice.AddEdges(lines, ref channelOfBit[8 * octet], firstTick + sample);
        }
    }

    // Notes the blocks with changes; how many there are.
    private int Note(ref byte at, int blocks)
    {
        ref byte before = ref Unsafe.Subtract(ref at, unit);
        ref byte mask = ref MemoryMarshal.GetArrayDataReference(_mask);
        ref int places = ref MemoryMarshal.GetArrayDataReference(_blocks);
        nint busy = 0;
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<byte> wanted = Vector512.LoadUnsafe(ref mask);
            for (int i = 0; i < blocks; i++)
            {
                Vector512<byte> changed = (Vector512.LoadUnsafe(ref at) ^ Vector512.LoadUnsafe(ref before)) & wanted;
                Unsafe.Add(ref places, busy) = i;
                busy += changed != Vector512<byte>.Zero ? 1 : 0;
                at = ref Unsafe.Add(ref at, Block);
                before = ref Unsafe.Add(ref before, Block);
            }

            return (int)busy;
        }

        if (Vector256.IsHardwareAccelerated)
        {
            Vector256<byte> low = Vector256.LoadUnsafe(ref mask);
            Vector256<byte> high = Vector256.LoadUnsafe(ref mask, 32);
            for (int i = 0; i < blocks; i++)
            {
                Vector256<byte> changed = ((Vector256.LoadUnsafe(ref at) ^ Vector256.LoadUnsafe(ref before)) & low)
                    | ((Vector256.LoadUnsafe(ref at, 32) ^ Vector256.LoadUnsafe(ref before, 32)) & high);
                Unsafe.Add(ref places, busy) = i;
                busy += changed != Vector256<byte>.Zero ? 1 : 0;
                at = ref Unsafe.Add(ref at, Block);
                before = ref Unsafe.Add(ref before, Block);
            }

            return (int)busy;
        }

        for (int i = 0; i < blocks; i++)
        {
            Vector128<byte> changed = Vector128<byte>.Zero;
            for (nuint part = 0; part < Block; part += 16)
            {
                changed |= (Vector128.LoadUnsafe(ref at, part) ^ Vector128.LoadUnsafe(ref before, part)) & Vector128.LoadUnsafe(ref mask, part);
            }

            Unsafe.Add(ref places, busy) = i;
            busy += changed != Vector128<byte>.Zero ? 1 : 0;
            at = ref Unsafe.Add(ref at, Block);
            before = ref Unsafe.Add(ref before, Block);
        }

        return (int)busy;
    }

    // Bit i: octet i of the block differs from the one a unit before it in a line that is wanted.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ulong ChangesOf(ref byte at)
    {
        ref byte before = ref Unsafe.Subtract(ref at, unit);
        ref byte mask = ref MemoryMarshal.GetArrayDataReference(_mask);
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<byte> changed = (Vector512.LoadUnsafe(ref at) ^ Vector512.LoadUnsafe(ref before)) & Vector512.LoadUnsafe(ref mask);
            return ~Vector512.Equals(changed, Vector512<byte>.Zero).ExtractMostSignificantBits();
        }

        ulong same = 0;
        if (Vector256.IsHardwareAccelerated)
        {
            for (int i = 0; i < Block; i += 32)
            {
                Vector256<byte> changed = (Vector256.LoadUnsafe(ref at, (nuint)i) ^ Vector256.LoadUnsafe(ref before, (nuint)i))
                    & Vector256.LoadUnsafe(ref mask, (nuint)i);
                same |= (ulong)Vector256.Equals(changed, Vector256<byte>.Zero).ExtractMostSignificantBits() << i;
            }

            return ~same;
        }

        for (int i = 0; i < Block; i += 16)
        {
            Vector128<byte> changed = (Vector128.LoadUnsafe(ref at, (nuint)i) ^ Vector128.LoadUnsafe(ref before, (nuint)i))
                & Vector128.LoadUnsafe(ref mask, (nuint)i);
            same |= (ulong)Vector128.Equals(changed, Vector128<byte>.Zero).ExtractMostSignificantBits() << i;
        }

        return ~same;
    }

    // The wanted lines of each octet, repeated over a block; where units do not fit a block only the first is used.
    // Blocks start where a unit starts, because the look starts there and both lengths are multiples of the unit.
    private static byte[] MaskOf(int unit, int[] channelOfBit)
    {
        byte[] mask = new byte[Block];
        for (int i = 0; i < Block; i++)
        {
            for (int bit = 0; bit < 8; bit++)
            {
                mask[i] |= channelOfBit[(8 * (i % unit)) + bit] >= 0 ? (byte)(1 << bit) : (byte)0;
            }
        }

        return mask;
    }
}
