namespace DmxProbe.Analysis.Timing;

/// <summary>Which of the two limits of a quantity is meant.</summary>
public enum LimitSide
{
    /// <summary>What may be sent.</summary>
    Send,

    /// <summary>What a receiver must accept.</summary>
    Accept,
}
