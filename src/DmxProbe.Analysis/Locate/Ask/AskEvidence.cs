using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// One piece of evidence: what it says about every place and about "none of these". Either log-likelihoods, or for what an
/// eye saw the chance of the words if the eye was right and if it was wrong: how often eyes err is inferred with the place.
/// </summary>
public sealed class AskEvidence
{
    private AskEvidence(AskEvidenceKind kind, string text, Timestamp? time, double[]? nats, float[]? right, float[]? wrong)
    {
        Kind = kind;
        Text = text;
        Time = time;
        Nats = nats;
        Right = right;
        Wrong = wrong;
        Top = nats?.Max() ?? 0;
    }

    /// <summary>Where it comes from.</summary>
    public AskEvidenceKind Kind { get; }

    /// <summary>What it is, for a person: <c>'dark' at 12.3 s</c>.</summary>
    public string Text { get; }

    /// <summary>When; null where it has no one moment.</summary>
    public Timestamp? Time { get; }

    internal double[]? Nats { get; }

    /// <summary>The highest of <see cref="Nats"/>.</summary>
    internal double Top { get; }

    internal float[]? Right { get; }

    internal float[]? Wrong { get; }

    /// <summary>Evidence with a log-likelihood for every place, the last for "none of these".</summary>
    internal static AskEvidence OfNats(AskEvidenceKind kind, string text, Timestamp? time, double[] nats) => new(kind, text, time, nats, null, null);

    /// <summary>What an eye saw.</summary>
    internal static AskEvidence OfEye(AskEvidenceKind kind, string text, Timestamp? time, float[] right, float[] wrong) => new(kind, text, time, null, right, wrong);

    /// <summary>Whether it says the same about two places.</summary>
    internal bool IsSame(int first, int second) => Nats is not null
        ? Math.Abs(Nats[first] - Nats[second]) < 1e-6
        : Math.Abs(Right![first] - Right[second]) < 1e-6 && Math.Abs(Wrong![first] - Wrong[second]) < 1e-6;
}
