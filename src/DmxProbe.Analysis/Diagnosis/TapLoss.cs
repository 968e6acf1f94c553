using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>One sender's packets of a universe at two places of a network, by their sequence numbers.</summary>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">Who sends it.</param>
/// <param name="Near">Packets at the sender's side.</param>
/// <param name="Far">Packets at the receiver's side in the same time; 0 where none came.</param>
/// <param name="LostNear">Packets that were missing at the sender's side already.</param>
/// <param name="LostFar">Packets that were missing at the receiver's side.</param>
public sealed record TapLoss(UniverseId Universe, SenderSummary Sender, long Near, long Far, long LostNear, long LostFar)
{
    /// <summary>Packets lost between the two places.</summary>
    public long OnTheWay => Math.Max(0, LostFar - LostNear);

    /// <summary>Their share of what was sent, 0 to 1.</summary>
    public double Share => Far + LostFar == 0 ? 0 : (double)OnTheWay / (Far + LostFar);
}
