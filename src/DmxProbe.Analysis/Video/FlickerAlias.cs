namespace DmxProbe.Analysis.Video;

/// <summary>
/// What a camera makes of light that flickers faster than it takes pictures: sampled at the picture rate, a frequency
/// folds to its distance from the nearest multiple of that rate (sampling theorem).
/// </summary>
public static class FlickerAlias
{
    /// <summary>Light on 50 Hz mains flickers at twice that, once for each half wave.</summary>
    public const double Mains50 = 100;

    /// <summary>Light on 60 Hz mains.</summary>
    public const double Mains60 = 120;

    /// <summary>The frequency seen.</summary>
    /// <param name="flicker">Of the light, Hz; not negative.</param>
    /// <param name="picturesPerSecond">Of the camera; above 0.</param>
    /// <returns>0 to half the picture rate, Hz.</returns>
    public static double Seen(double flicker, double picturesPerSecond)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(picturesPerSecond);
        ArgumentOutOfRangeException.ThrowIfNegative(flicker);
        return Math.Abs(flicker - (Math.Round(flicker / picturesPerSecond) * picturesPerSecond));
    }

    /// <summary>
    /// Whether an alias is slow enough to pass for a fade: at most 2 Hz, but not so slow that a minute shows nothing of it.
    /// </summary>
    public static bool LooksLikeAFade(double seen) => seen is > 0.01 and <= 2;

    /// <summary>
    /// How much of a flicker one exposure lets through: the mean of a sine over the exposure, |sin(pi f T) / (pi f T)|. An
    /// exposure of a whole number of periods lets nothing through.
    /// </summary>
    /// <param name="flicker">Of the light, Hz.</param>
    /// <param name="exposure">Seconds.</param>
    public static double PassedByExposure(double flicker, double exposure)
    {
        double angle = Math.PI * flicker * exposure;
        return Math.Abs(angle) < 1e-9 ? 1 : Math.Abs(Math.Sin(angle) / angle);
    }
}
