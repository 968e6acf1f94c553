namespace DmxProbe.Fixtures.Patch;

/// <summary>How much a finding about a sheet matters.</summary>
public enum PatchSeverity
{
    /// <summary>May be meant so.</summary>
    Warning,

    /// <summary>Cannot work as the sheet says.</summary>
    Fault,
}
