using System.Runtime.CompilerServices;

namespace DmxProbe.Fixtures.Light;

/// <summary>What each of the 256 values of a slot does to the light, with the low byte where the mode has one.</summary>
internal readonly struct LightTable(int offset, float[] values, int fineOffset)
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
    public float Read(ReadOnlySpan<byte> slots)
    {
        float value = values[offset < slots.Length ? slots[offset] : 0];
        return fineOffset < slots.Length ? value + (slots[fineOffset] * FineStep) : value;
    }
}
