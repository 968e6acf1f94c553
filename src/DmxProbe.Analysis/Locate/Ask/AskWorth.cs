namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>When a question is worth a person's time.</summary>
internal static class AskWorth
{
    private const double Close = 0.8;
    private const double WhenClose = 0.002;
    private const double WhenFar = 0.02;

    /// <summary>The least that a question must be expected to tell, bits: near a claim little is enough.</summary>
    public static double Least(AskPosterior posterior) => posterior.Span[posterior.Best] >= Close ? WhenClose : WhenFar;
}
