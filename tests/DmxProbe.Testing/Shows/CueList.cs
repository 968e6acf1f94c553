using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Shows;

/// <summary>The cues of a show in a night: when, how long, and what each unit is told.</summary>
public sealed class CueList
{
    private readonly ulong _show;

    /// <summary>Works out the cues of a plan.</summary>
    public CueList(ShowPlan plan)
    {
        _show = plan.Show;
        SeededRandom show = SeededRandom.For(plan.Show, 1);
        SeededRandom night = SeededRandom.For(plan.Night, 2);
        double time = 1;
        double last = 0;
        List<(double, double)> cues = [];
        double[] fades = [0, 1, 3];
        while (time < plan.Seconds)
        {
            double pressed = Math.Max(last + Math.Min(1, plan.ShortestGap), time + (((night.NextDouble() * 2) - 1) * plan.OperatorSeconds));
            cues.Add((pressed, cues.Count == 0 ? 0 : fades[show.Next(0, 3)]));
            last = pressed;
            time += plan.ShortestGap - (Math.Log(1 - show.NextDouble()) * plan.MeanGap);
        }

        Cues = cues;
    }

    /// <summary>When each cue starts, and how long it fades, in seconds of the night.</summary>
    public IReadOnlyList<(double At, double Fade)> Cues { get; }

    /// <summary>Sets what a cue sends to a universe; what it does not touch stays.</summary>
    /// <param name="cue">Number, from 0.</param>
    /// <param name="universe">Number, from 1.</param>
    /// <param name="slots">Slot 1 first.</param>
    public void Apply(int cue, int universe, Span<byte> slots)
    {
        SeededRandom random = SeededRandom.For(_show, (ulong)(1000 + (cue * 100_003L) + universe));
        Span<byte> look = stackalloc byte[ShowRig.Footprint];
        for (int group = 0; group < ShowRig.Units / ShowRig.GroupSize; group++)
        {
            bool moves = cue == 0 || random.Chance(0.6);
            bool equal = random.Chance(0.5);
            for (int unit = 0; unit < ShowRig.GroupSize; unit++)
            {
                if (unit == 0 || !equal)
                {
                    Draw(random, cue, look);
                }

                if (moves)
                {
                    Span<byte> target = slots.Slice(((group * ShowRig.GroupSize) + unit) * ShowRig.Footprint, ShowRig.Footprint);
                    byte zoom = look[9] == 0 ? target[9] : look[9];
                    look.CopyTo(target);
                    target[9] = zoom;
                }
            }
        }
    }

    private static void Draw(SeededRandom random, int cue, Span<byte> look)
    {
        ulong bits = random.NextBits();
        ulong more = random.NextBits();
        look[0] = (bits & 7) == 0 ? (byte)0 : (byte)(64 + (bits >> 8 & 0xBF));
        for (int colour = 1; colour < 5; colour++)
        {
            look[colour] = (byte)(bits >> (8 + (8 * colour)) & 0xFF);
        }

        for (int position = 5; position < 9; position++)
        {
            look[position] = (byte)(more >> (8 * (position - 5)) & 0xFF);
        }

        // 0 stands for: stays as it is.
        look[9] = cue == 0 || (more >> 40 & 3) == 0 ? (byte)(1 + ((more >> 48) % 255)) : (byte)0;
        look[10] = 255;
        look[11] = 0;
    }
}
