using System.Runtime.CompilerServices;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Light;

/// <summary>What each of the 256 values of a slot does to the light, with the low byte where the mode has one.</summary>
/// <param name="offset">Place of the slot, from 0.</param>
/// <param name="values">What each value does.</param>
/// <param name="fineOffset">Place of the low byte, or <see cref="NoFine"/>.</param>
/// <param name="cases">What holds instead while another slot is in a range, the first that holds; null for most slots.</param>
internal readonly struct LightTable(int offset, float[] values, int fineOffset, LightCase[]? cases = null)
{
    /// <summary>Marks a value that flashes; told apart by equality, so it is never the result of arithmetic.</summary>
    public const float Flashing = -1;

    /// <summary>Marks a value under which nothing can be said.</summary>
    public const float Unpredictable = float.NaN;

    /// <summary>One step of the low byte.</summary>
    private const float FineStep = 1f / 65535;

    /// <summary>Without a low byte: beyond every span.</summary>
    public const int NoFine = int.MaxValue;

    /// <summary>Looks the slot up; a slot that is not there counts as 0.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public float Read(ReadOnlySpan<byte> slots) => cases is null ? Read(slots, values, fineOffset) : ReadCase(slots);

    /// <summary>What it does without its cases, to be made a case of.</summary>
    public LightCase While(SlotCondition when, ChartSlot master) => new(when, master, values, fineOffset);

    /// <summary>The same table with cases.</summary>
    public LightTable With(LightCase[] held) => new(offset, values, fineOffset, held);

    private float ReadCase(ReadOnlySpan<byte> slots)
    {
        foreach (LightCase held in cases!)
        {
            if (held.Holds(slots))
            {
                return Read(slots, held.Values, held.FineOffset);
            }
        }

        return Read(slots, values, fineOffset);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private float Read(ReadOnlySpan<byte> slots, float[] values, int fineOffset)
    {
        float value = values[offset < slots.Length ? slots[offset] : 0];
        return fineOffset < slots.Length ? value + (slots[fineOffset] * FineStep) : value;
    }
}
