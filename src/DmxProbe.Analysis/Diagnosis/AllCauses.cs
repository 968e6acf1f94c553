using DmxProbe.Analysis.Diagnosis.Causes.Network;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Every cause known, in the order of docs/causes.md.</summary>
public static class AllCauses
{
    /// <summary>The causes.</summary>
    public static IReadOnlyList<Cause> List { get; } =
    [
        new EqualPriority(),
    ];

    /// <summary>A cause by its name; null when there is none.</summary>
    public static Cause? Find(string id) => List.FirstOrDefault(cause => cause.Id == id);
}
