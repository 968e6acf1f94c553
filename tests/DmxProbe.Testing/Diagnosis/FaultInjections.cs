namespace DmxProbe.Testing.Diagnosis;

/// <summary>Every way in which the evaluation puts a cause into a healthy rig.</summary>
public static class FaultInjections
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<FaultInjection> All { get; } = [.. NetworkInjections.List, .. UnitInjections.List, .. LineInjections.List, .. LightInjections.List];

    /// <summary>Those that only the light shows; each rig has one light filmed.</summary>
    public static IReadOnlySet<string> ByLight { get; } = LightInjections.List.Select(each => each.Id).ToHashSet(StringComparer.Ordinal);
}
