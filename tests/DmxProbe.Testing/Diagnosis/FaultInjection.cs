using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>One way to put one cause into a healthy rig.</summary>
/// <param name="Id">The cause (<see cref="DmxProbe.Analysis.Diagnosis.Cause.Id"/>).</param>
/// <param name="On">What it is put into: network protocols, or <see cref="UniverseProtocol.Line"/>.</param>
/// <param name="Apply">Puts it in: the rig, and whether mildly.</param>
public sealed record FaultInjection(string Id, IReadOnlyList<UniverseProtocol> On, Action<FaultRig, bool> Apply)
{
    /// <summary>Whether it hides what else is wrong: never one of a pair.</summary>
    public bool HidesOthers { get; init; }
}
