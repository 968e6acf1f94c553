using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>Lighting datagrams that came in IP fragments.</summary>
/// <param name="Datagrams">Those whose first fragment was seen.</param>
/// <param name="Whole">Those of which every fragment was seen.</param>
/// <param name="Source">Sender of the first one; empty when there is none.</param>
/// <param name="First">When the first came.</param>
/// <param name="Last">When the last came.</param>
/// <param name="FirstRecord">Record of the first.</param>
public sealed record FragmentSnapshot(
    long Datagrams, long Whole, string Source, Timestamp First, Timestamp Last, long FirstRecord)
{
    /// <summary>None seen.</summary>
    public static FragmentSnapshot None { get; } = new(0, 0, "", default, default, 0);
}
