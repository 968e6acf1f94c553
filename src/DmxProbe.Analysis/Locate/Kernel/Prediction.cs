namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Predicted light as steps: from sample <c>At[i]</c> on it is <c>Value[c][i]</c>. Where it is not predictable the
/// last value stands and <see cref="Masked"/> says so.
/// </summary>
internal sealed class Prediction(int channels)
{
    public int Count { get; private set; }

    public int[] At { get; private set; } = new int[64];

    public double[][] Value { get; } = [.. Enumerable.Range(0, channels).Select(_ => new double[64])];

    /// <summary>Largest value of each channel where it is predictable.</summary>
    public double[] Peak { get; } = new double[channels];

    public List<(int From, int To)> Masked { get; } = [];

    /// <summary>Samples of the window without those masked.</summary>
    public int Weighed { get; private set; }

    public int Samples { get; private set; }

    public void Clear(int samples)
    {
        Count = 0;
        Samples = samples;
        Weighed = samples;
        Masked.Clear();
        Array.Clear(Peak);
    }

    /// <summary>Adds a step; a step that changes nothing is dropped.</summary>
    public void Add(int at, ReadOnlySpan<float> value)
    {
        bool same = Count > 0;
        for (int c = 0; c < value.Length && same; c++)
        {
            same = Value[c][Count - 1] == value[c];
        }

        if (same)
        {
            return;
        }

        if (Count == At.Length)
        {
            At = Grown(At);
            for (int c = 0; c < Value.Length; c++)
            {
                Value[c] = Grown(Value[c]);
            }
        }

        At[Count] = at;
        for (int c = 0; c < value.Length; c++)
        {
            Value[c][Count] = value[c];
            Peak[c] = Math.Max(Peak[c], value[c]);
        }

        Count++;
    }

    public void Mask(int from, int to)
    {
        if (to > from)
        {
            Masked.Add((from, to));
            Weighed -= to - from;
        }
    }

    /// <summary>Variance of the steps over the samples that count, full = 1; the largest of the channels.</summary>
    public double Variance()
    {
        double largest = 0;
        for (int c = 0; c < Value.Length; c++)
        {
            double sum = 0;
            double squares = 0;
            int mask = 0;
            for (int i = 0; i < Count; i++)
            {
                int from = At[i];
                int to = i + 1 < Count ? At[i + 1] : Samples;
                int weight = to - from;
                while (mask < Masked.Count && Masked[mask].To <= from)
                {
                    mask++;
                }

                for (int m = mask; m < Masked.Count && Masked[m].From < to; m++)
                {
                    weight -= Math.Min(to, Masked[m].To) - Math.Max(from, Masked[m].From);
                }

                sum += weight * Value[c][i];
                squares += weight * Value[c][i] * Value[c][i];
            }

            if (Weighed > 0)
            {
                double mean = sum / Weighed;
                largest = Math.Max(largest, (squares / Weighed) - (mean * mean));
            }
        }

        return largest;
    }

    /// <summary>One value for each sample of a channel.</summary>
    public void Fill(int channel, Span<double> samples)
    {
        for (int i = 0; i < Count; i++)
        {
            int to = i + 1 < Count ? At[i + 1] : Samples;
            samples[At[i]..to].Fill(Value[channel][i]);
        }
    }

    private static T[] Grown<T>(T[] array)
    {
        Array.Resize(ref array, array.Length * 2);
        return array;
    }
}
