namespace DmxProbe.Analysis.Locate;

/// <summary>A hypothesis on its way through the stages.</summary>
internal sealed class Standing(Hypothesis hypothesis, Score score, bool isMasked)
{
    public Hypothesis Hypothesis { get; } = hypothesis;

    public bool IsMasked { get; } = isMasked;

    public Score Score { get; set; } = score;

    /// <summary>Log-likelihood with the imperfect light model, where it was worked out, else that of the score.</summary>
    public double LogLikelihood { get; set; } = score.LogLikelihood;

    /// <summary>By how many nats a light model with errors beats the exact one.</summary>
    public double Imperfection { get; set; }

    /// <summary>Log-likelihood of the evidence beside the trace, nats.</summary>
    public double Also { get; set; }

    public double Posterior { get; set; }

    /// <summary>What RDM devices say for it, nats.</summary>
    public double ReportNats { get; set; }

    /// <summary>Its steps; kept from stage 2 on.</summary>
    public Prediction? Prediction { get; set; }

    public HypothesisLight? Light { get; set; }

    public Weighing? Weighing { get; set; }

    /// <summary>The fitted light by channel, in units of the trace.</summary>
    public double[][]? Fitted { get; set; }
}
