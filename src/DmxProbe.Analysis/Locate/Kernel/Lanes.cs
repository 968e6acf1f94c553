using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Sums in four fixed lanes: the order of the additions, and so the result, is the same on every processor.
/// </summary>
internal static class Lanes
{
    /// <summary>Sum of products.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        int whole = a.Length & ~7;
        ref double left = ref MemoryMarshal.GetReference(a);
        ref double right = ref MemoryMarshal.GetReference(b[..a.Length]);
        Vector256<double> one = Vector256<double>.Zero;
        Vector256<double> two = Vector256<double>.Zero;
        for (int i = 0; i < whole; i += 8)
        {
            one += Vector256.LoadUnsafe(ref left, (nuint)i) * Vector256.LoadUnsafe(ref right, (nuint)i);
            two += Vector256.LoadUnsafe(ref left, (nuint)i + 4) * Vector256.LoadUnsafe(ref right, (nuint)i + 4);
        }

        one += two;
        double sum = one[0] + one[1] + (one[2] + one[3]);
        for (int i = whole; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }

    /// <summary>Adds a multiple of a row whose length is a multiple of four.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void AddRow(ref double sum, ref double row, double factor, int length)
    {
        Vector256<double> times = Vector256.Create(factor);
        for (int i = 0; i < length; i += 4)
        {
            (Vector256.LoadUnsafe(ref sum, (nuint)i) + (Vector256.LoadUnsafe(ref row, (nuint)i) * times)).StoreUnsafe(ref sum, (nuint)i);
        }
    }

    /// <summary>Adds a multiple of one series to another.</summary>
    public static void AddScaled(Span<double> sum, ReadOnlySpan<double> values, double factor)
    {
        int whole = sum.Length & ~3;
        ref double to = ref MemoryMarshal.GetReference(sum);
        ref double from = ref MemoryMarshal.GetReference(values[..sum.Length]);
        Vector256<double> times = Vector256.Create(factor);
        for (int i = 0; i < whole; i += 4)
        {
            (Vector256.LoadUnsafe(ref to, (nuint)i) + (Vector256.LoadUnsafe(ref from, (nuint)i) * times)).StoreUnsafe(ref to, (nuint)i);
        }

        for (int i = whole; i < sum.Length; i++)
        {
            sum[i] += values[i] * factor;
        }
    }

    /// <summary>Takes the mean off; returns it.</summary>
    public static double Centre(Span<double> values)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value;
        }

        double mean = sum / Math.Max(values.Length, 1);
        foreach (ref double value in values)
        {
            value -= mean;
        }

        return mean;
    }

    /// <summary>Rounds up to whole rows of four.</summary>
    public static int Padded(int length) => 4 * ((length + 3) / 4);

    /// <summary>exp(a x) for each x, in place of a power.</summary>
    public static void Exponentials(ReadOnlySpan<double> logs, double factor, Span<double> result)
    {
        int whole = logs.Length & ~3;
        ref double from = ref MemoryMarshal.GetReference(logs);
        ref double to = ref MemoryMarshal.GetReference(result[..logs.Length]);
        Vector256<double> times = Vector256.Create(factor);
        for (int i = 0; i < whole; i += 4)
        {
            Vector256.Exp(Vector256.LoadUnsafe(ref from, (nuint)i) * times).StoreUnsafe(ref to, (nuint)i);
        }

        for (int i = whole; i < logs.Length; i++)
        {
            result[i] = Math.Exp(logs[i] * factor);
        }
    }
}
