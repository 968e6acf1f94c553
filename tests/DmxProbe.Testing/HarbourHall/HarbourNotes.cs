using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// What somebody in the house writes down of LX1-6: looks that stood still, and a tap at each change. Made from the light
/// itself, never from what the locating inference thinks of it.
/// </summary>
public static class HarbourNotes
{
    private const double BlackLevel = 0.15;
    private const double Dark = 0.03;
    private const double Still = 0.06;
    private const double Change = 0.06;
    private const double BetweenNotes = 2;
    private const double BetweenTaps = 0.7;
    private const double Restless = 0.05;
    private const int Second = 30;
    private const int Window = 50;

    private static readonly string[] Words = ["dark", "red", "green", "amber", "blue", "magenta", "cyan", "white"];

    /// <summary>Looks: seconds and a word, at moments before which the light stood still.</summary>
    public static IReadOnlyList<(double Seconds, string Word)> Looks(IReadOnlyList<HarbourTrace.Sample> trace)
    {
        List<(double Seconds, string Word)> looks = [];
        double next = 0;
        for (int i = Window; i < trace.Count; i++)
        {
            if (trace[i].Seconds < next || Spread(trace, i - Window, i) > Still)
            {
                continue;
            }

            Rgb light = Mean(trace, i - Second, i);
            looks.Add((Math.Round(trace[i].Seconds, 1), Word(light)));
            next = trace[i].Seconds + BetweenNotes;
        }

        return looks;
    }

    /// <summary>Taps, 0.22 to 0.38 s after each change.</summary>
    public static IReadOnlyList<double> Taps(IReadOnlyList<HarbourTrace.Sample> trace, ulong seed)
    {
        SeededRandom random = new(seed);
        List<double> taps = [];
        Rgb rest = Mean(trace, 0, 8);
        double next = 0;
        for (int i = 12; i + 4 < trace.Count; i++)
        {
            if (Spread(trace, i - 12, i) < Restless)
            {
                // At rest: the next change is a new one.
                rest = Mean(trace, i - 8, i);
                continue;
            }

            Rgb now = Mean(trace, i, i + 4);
            double moved = Math.Max(Math.Abs(now.R - rest.R), Math.Max(Math.Abs(now.G - rest.G), Math.Abs(now.B - rest.B)));
            if (moved >= Change && trace[i].Seconds >= next)
            {
                rest = new Rgb(double.NaN, double.NaN, double.NaN); // nothing more until it rests
                taps.Add(Math.Round(trace[i].Seconds + 0.22 + (random.Next(0, 160) / 1000.0), 2));
                next = trace[i].Seconds + BetweenTaps;
            }
        }

        return taps;
    }

    private static string Word(Rgb light)
    {
        double most = Math.Max(light.R, Math.Max(light.G, light.B)) - BlackLevel;
        bool IsUp(double level) => level - BlackLevel > 0.5 * most;
        return most < Dark ? Words[0] : Words[(IsUp(light.R) ? 1 : 0) + (IsUp(light.G) ? 2 : 0) + (IsUp(light.B) ? 4 : 0)];
    }

    private static Rgb Mean(IReadOnlyList<HarbourTrace.Sample> trace, int from, int to)
    {
        double red = 0, green = 0, blue = 0;
        for (int i = from; i < to; i++)
        {
            red += trace[i].Level.R;
            green += trace[i].Level.G;
            blue += trace[i].Level.B;
        }

        return new Rgb(red / (to - from), green / (to - from), blue / (to - from));
    }

    private static double Spread(IReadOnlyList<HarbourTrace.Sample> trace, int from, int to)
    {
        Rgb first = Mean(trace, from, from + (Second / 2));
        double spread = 0;
        for (int i = from; i + 4 < to; i += 4)
        {
            Rgb here = Mean(trace, i, i + 4);
            spread = Math.Max(spread, Math.Max(Math.Abs(here.R - first.R), Math.Max(Math.Abs(here.G - first.G), Math.Abs(here.B - first.B))));
        }

        return spread;
    }
}
