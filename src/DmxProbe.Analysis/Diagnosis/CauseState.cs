namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What the inputs at hand say about a cause.</summary>
public enum CauseState
{
    /// <summary>Seen: the evidence cannot be had without the cause.</summary>
    Proven,

    /// <summary>The evidence fits this cause and little else.</summary>
    Likely,

    /// <summary>Nothing speaks against it, and something for it.</summary>
    Possible,

    /// <summary>The inputs would show it, and do not.</summary>
    Excluded,

    /// <summary>These inputs cannot show it: neither proven nor excluded.</summary>
    CannotTell,
}
