namespace DmxProbe.Analysis.Timing;

/// <summary>How a figure stands against one limit.</summary>
public enum LimitStanding
{
    /// <summary>Within it in every packet measured.</summary>
    Within,

    /// <summary>Outside it, by more than the measurement may be off.</summary>
    Outside,

    /// <summary>This input cannot decide it.</summary>
    Open,
}
