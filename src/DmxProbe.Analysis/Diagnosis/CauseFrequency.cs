namespace DmxProbe.Analysis.Diagnosis;

/// <summary>How often a cause is met. Guesses of practitioners: common practice, no source; a starting order and no more.</summary>
public enum CauseFrequency
{
    /// <summary>Rarely.</summary>
    Rare,

    /// <summary>Every month or so on tour.</summary>
    Sometimes,

    /// <summary>Every few shows.</summary>
    Common,
}
