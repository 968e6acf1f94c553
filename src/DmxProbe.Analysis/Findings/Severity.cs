namespace DmxProbe.Analysis.Findings;

/// <summary>How much a finding matters.</summary>
public enum Severity
{
    /// <summary>Worth knowing; nothing is wrong.</summary>
    Info,

    /// <summary>May trouble some receivers or hides something.</summary>
    Warning,

    /// <summary>Something is wrong: the exit code says so.</summary>
    Fault,
}
