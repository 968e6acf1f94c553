namespace DmxProbe.Analysis.Locate;

/// <summary>How well the best hypothesis fits.</summary>
/// <param name="DelaySeconds">Light behind the data, seconds, in steps of 1/30 s.</param>
/// <param name="Response">Exponent of the response curve (with the camera's).</param>
/// <param name="LagSamples">Time constant of the light, samples of 1/30 s.</param>
/// <param name="Unexplained">Share of the structured variance left over, about 0 to 1; slightly negative by chance.</param>
/// <param name="UnexplainedError">Standard error of <paramref name="Unexplained"/>.</param>
/// <param name="OwnShare">Share of the structured variance that is the unit's own light.</param>
/// <param name="SpillShare">Share of the structured variance that is light of the other units.</param>
/// <param name="MarginOverNone">Log-likelihood over "only the other units' light", nats.</param>
/// <param name="SpillScale">The most likely strength of a single other unit's light; 0 = none.</param>
/// <param name="Imperfection">By how many nats a light model with errors beats the exact one; below 0 where it does not.</param>
/// <param name="Changes">Moves of the predicted light.</param>
/// <param name="LightChanges">Moves seen in the trace.</param>
/// <param name="Samples">Samples compared.</param>
public sealed record LocateFit(
    double DelaySeconds,
    double Response,
    double LagSamples,
    double Unexplained,
    double UnexplainedError,
    double OwnShare,
    double SpillShare,
    double MarginOverNone,
    double SpillScale,
    double Imperfection,
    int Changes,
    int LightChanges,
    int Samples)
{
    /// <summary>
    /// Log-likelihood over the runner-up outside the class, nats; infinite where there is none. Prior and tempering left out.
    /// </summary>
    public double Lead { get; init; } = double.PositiveInfinity;

    /// <summary>
    /// Posterior of all that are outside the class and fit best with some of the other units' light, 0 to 1: a fit without any is
    /// only as good as the belief that there is none.
    /// </summary>
    public double RivalsWithSpill { get; init; }
}
