namespace DmxProbe.Testing.Diagnosis;

/// <summary>Every way in which the evaluation puts a cause into a healthy rig.</summary>
public static class FaultInjections
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<FaultInjection> All { get; } = [.. NetworkInjections.List, .. UnitInjections.List, .. LineInjections.List];
}
