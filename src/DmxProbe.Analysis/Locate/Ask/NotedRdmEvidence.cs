using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// What a unit says it stores. It is strong evidence of what is set and none of what arrives; and it may have been read
/// from the unit beside it: one report in fifty is taken to be of another unit.
/// </summary>
public static class NotedRdmEvidence
{
    private const double OfAnother = 0.02;

    // Personalities are numbered by the device; a chart's order mostly follows them.
    private const double OrderDiffers = 0.15;

    /// <summary>Weighs a report.</summary>
    /// <param name="space">The places.</param>
    /// <param name="report">What it stores.</param>
    /// <param name="universe">The universe whose line it answered on; null = not known.</param>
    /// <param name="text">What it is, for a person.</param>
    /// <param name="time">When, if that is known.</param>
    public static AskEvidence Of(AskSpace space, RdmReport report, UniverseId? universe, string text, Timestamp? time)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(report);
        double[] nats = new double[space.Count + 1];
        for (int i = 0; i < space.Count; i++)
        {
            AskPlace place = space.PlaceAt(i);
            nats[i] = Math.Log(place.Address == report.Address ? 1 - OfAnother : OfAnother / (SlotHistory.SlotCount - 1));
            if (report.Footprint > 0)
            {
                nats[i] += Math.Log(space.Modes[place.Mode].Footprint == report.Footprint ? 1 - OfAnother : OfAnother);
            }

            if (report.Personality > 0 && space.Personalities[place.Mode] > 0)
            {
                nats[i] += Math.Log(space.Personalities[place.Mode] == report.Personality ? 1 - OrderDiffers : OrderDiffers);
            }

            if (universe is UniverseId known)
            {
                nats[i] += Math.Log(space.Universes[place.Universe] == known ? 1 - OfAnother : OfAnother);
            }
        }

        nats[^1] = Math.Log(1.0 / SlotHistory.SlotCount);
        return AskEvidence.OfNats(AskEvidenceKind.Rdm, text, time, nats);
    }
}
