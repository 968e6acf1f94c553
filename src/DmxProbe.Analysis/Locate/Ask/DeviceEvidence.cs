using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// What RDM devices in the capture say of their own address and slots, as evidence about places. It tells what is set, and
/// nothing about "none of these": a unit that is set so may all the same get no data.
/// </summary>
public static class DeviceEvidence
{
    /// <summary>Takes a report over.</summary>
    /// <param name="space">The places.</param>
    /// <param name="universes">The universe of each history, as the report's hypotheses name them.</param>
    /// <param name="report">The report.</param>
    public static AskEvidence Of(AskSpace space, IReadOnlyList<UniverseId> universes, LocateReport report)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(universes);
        ArgumentNullException.ThrowIfNull(report);

        // Two senders of a universe are two hypotheses of a report and one place.
        HashSet<(UniverseId, int, int)> agreed = [.. report.Places.Select(place => (universes[place.History], place.Address, place.Mode))];
        double[] nats = new double[space.Count + 1];
        double share = report.Trust * space.Count / Math.Max(agreed.Count, 1);
        for (int i = 0; i < space.Count; i++)
        {
            AskPlace place = space.PlaceAt(i);
            nats[i] = Math.Log(1 - report.Trust + (agreed.Contains((space.Universes[place.Universe], place.Address, place.Mode)) ? share : 0));
        }

        return AskEvidence.OfNats(AskEvidenceKind.Device, report.Text, null, nats);
    }
}
