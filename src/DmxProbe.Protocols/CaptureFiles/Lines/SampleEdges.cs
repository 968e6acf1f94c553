using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>
/// Finds where samples differ from the one before. Stretches where nothing changes are stepped over 256 octets at a time;
/// that path is what decides the speed, and it exists for vectors of 512, 256 and 128 bit.
/// </summary>
/// <param name="unit">Octets of a sample, 1 to 8; bit i of octet n is line 8n + i.</param>
/// <param name="channelOfBit">Channel of each of the 8 x unit lines; -1 for those not wanted.</param>
/// <param name="slice">Where the edges go.</param>
internal sealed class SampleEdges(int unit, int[] channelOfBit, EdgeSlice slice)
{
    private const int Block = 64; // octets whose changes fit one 64-bit mask
    private const int QuietBlocks = 4;

    private readonly byte[] _mask = MaskOf(unit, channelOfBit);
    private readonly bool _maskFits = Block % unit == 0;

    /// <summary>Finds the edges of samples that follow a sample already known.</summary>
    /// <param name="octets">The sample before, then those to be looked at: a whole number of units.</param>
    /// <param name="firstTick">Tick of the first sample to be looked at.</param>
    public void Find(ReadOnlySpan<byte> octets, long firstTick)
    {
        ref byte start = ref MemoryMarshal.GetReference(octets);
        int end = octets.Length;
        int at = unit;
        if (_maskFits)
        {
            while (end - at >= Block)
            {
                if (end - at >= QuietBlocks * Block && IsQuiet(ref Unsafe.Add(ref start, at)))
                {
                    at += QuietBlocks * Block;
                    continue;
                }

                // Busy: four blocks one by one before the quiet look pays again.
                for (int i = 0; i < QuietBlocks && end - at >= Block; i++, at += Block)
                {
                    for (ulong changed = ChangesOf(ref Unsafe.Add(ref start, at)); changed != 0; changed &= changed - 1)
                    {
                        Turn(octets, at + BitOperations.TrailingZeroCount(changed), firstTick);
                    }
                }
            }
        }

        for (; at < end; at++)
        {
            if (octets[at] != octets[at - unit])
            {
                Turn(octets, at, firstTick);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Turn(ReadOnlySpan<byte> octets, int at, long firstTick)
    {
        int sample = unit == 1 ? at - 1 : (at / unit) - 1;
        int octet = unit == 1 ? 0 : at % unit;
        uint lines = (uint)((octets[at] ^ octets[at - unit]) & _mask[octet]);
        for (; lines != 0; lines &= lines - 1)
        {
            slice.AddEdge(channelOfBit[(8 * octet) + BitOperations.TrailingZeroCount(lines)], firstTick + sample);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool IsQuiet(ref byte at)
    {
        ref byte before = ref Unsafe.Subtract(ref at, unit);
        ref byte mask = ref MemoryMarshal.GetArrayDataReference(_mask);
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<byte> differences =
                (Vector512.LoadUnsafe(ref at) ^ Vector512.LoadUnsafe(ref before))
                | (Vector512.LoadUnsafe(ref at, 64) ^ Vector512.LoadUnsafe(ref before, 64))
                | (Vector512.LoadUnsafe(ref at, 128) ^ Vector512.LoadUnsafe(ref before, 128))
                | (Vector512.LoadUnsafe(ref at, 192) ^ Vector512.LoadUnsafe(ref before, 192));
            return (differences & Vector512.LoadUnsafe(ref mask)) == Vector512<byte>.Zero;
        }

        if (Vector256.IsHardwareAccelerated)
        {
            Vector256<byte> low = Vector256<byte>.Zero;
            Vector256<byte> high = Vector256<byte>.Zero;
            for (nuint i = 0; i < QuietBlocks * Block; i += 64)
            {
                low |= Vector256.LoadUnsafe(ref at, i) ^ Vector256.LoadUnsafe(ref before, i);
                high |= Vector256.LoadUnsafe(ref at, i + 32) ^ Vector256.LoadUnsafe(ref before, i + 32);
            }

            return ((low & Vector256.LoadUnsafe(ref mask)) | (high & Vector256.LoadUnsafe(ref mask, 32))) == Vector256<byte>.Zero;
        }

        Vector128<byte> a = Vector128<byte>.Zero;
        Vector128<byte> b = Vector128<byte>.Zero;
        Vector128<byte> c = Vector128<byte>.Zero;
        Vector128<byte> d = Vector128<byte>.Zero;
        for (nuint i = 0; i < QuietBlocks * Block; i += 64)
        {
            a |= Vector128.LoadUnsafe(ref at, i) ^ Vector128.LoadUnsafe(ref before, i);
            b |= Vector128.LoadUnsafe(ref at, i + 16) ^ Vector128.LoadUnsafe(ref before, i + 16);
            c |= Vector128.LoadUnsafe(ref at, i + 32) ^ Vector128.LoadUnsafe(ref before, i + 32);
            d |= Vector128.LoadUnsafe(ref at, i + 48) ^ Vector128.LoadUnsafe(ref before, i + 48);
        }

        return ((a & Vector128.LoadUnsafe(ref mask)) | (b & Vector128.LoadUnsafe(ref mask, 16))
            | (c & Vector128.LoadUnsafe(ref mask, 32)) | (d & Vector128.LoadUnsafe(ref mask, 48))) == Vector128<byte>.Zero;
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
