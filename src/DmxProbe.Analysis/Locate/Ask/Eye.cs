using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What an eye makes of a light.</summary>
internal static class Eye
{
    /// <summary>Below this luminance nobody calls it lit (full = 1).</summary>
    public const double DarkBelow = 0.01;

    /// <summary>From this luminance on everybody does.</summary>
    public const double LitFrom = 0.05;

    // How sharply a colour word is told from its neighbours: about .85 for the right one of seven (locating research figure).
    private const double Sharpness = 9;

    private static readonly double[][] Prototypes =
        [[1, 0, 0], [1, 0.6, 0], [0, 1, 0], [0, 1, 1], [0, 0, 1], [1, 0, 1], [1, 1, 1]];

    /// <summary>How many colours there are words for.</summary>
    public static int Colours => Prototypes.Length;

    /// <summary>Chance that a right eye calls it lit; one half where a programme or a strobe decides.</summary>
    public static double Lit(in LightOutput light) => !light.Predictable ? 0.5
        : Math.Clamp((light.Luminance - DarkBelow) / (LitFrom - DarkBelow), 0, 1);

    /// <summary>Chance that a lit light of this mix is given this word.</summary>
    public static double Called(in LightOutput light, SeenColour colour)
    {
        double size = Math.Sqrt((light.Red * (double)light.Red) + (light.Green * (double)light.Green) + (light.Blue * (double)light.Blue));
        if (!light.Predictable || size <= 0)
        {
            return 1.0 / Colours;
        }

        double sum = 0;
        double own = 0;
        for (int k = 0; k < Prototypes.Length; k++)
        {
            double[] word = Prototypes[k];
            double length = Math.Sqrt((word[0] * word[0]) + (word[1] * word[1]) + (word[2] * word[2]));
            double like = Math.Exp(Sharpness * ((((word[0] * light.Red) + (word[1] * light.Green) + (word[2] * light.Blue)) / (length * size)) - 1));
            sum += like;
            own = k == (int)colour ? like : own;
        }

        return own / sum;
    }
}
