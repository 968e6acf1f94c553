using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>One sender on one universe in a night.</summary>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">Who sent it.</param>
/// <param name="SlotCount">Most slots sent.</param>
public sealed record NightStream(UniverseId Universe, SenderSummary Sender, int SlotCount)
{
    /// <summary>Looks by the number of the change that made them, by rising number.</summary>
    internal IReadOnlyList<NightLook> Looks { get; init; } = [];

    /// <summary>What makes it the same sender another night: the CID, or address and Physical; a line or port itself.</summary>
    internal string SenderKey => Sender.Cid.Length > 0 ? Sender.Cid : $"{Sender.Address} {Sender.Physical}";

    /// <summary>The look that stands after a change; null before the first.</summary>
    internal NightLook? After(int change)
    {
        int low = 0;
        int high = Looks.Count - 1;
        NightLook? found = null;
        while (low <= high)
        {
            int middle = (low + high) / 2;
            if (Looks[middle].Change <= change)
            {
                found = Looks[middle];
                low = middle + 1;
            }
            else
            {
                high = middle - 1;
            }
        }

        return found;
    }
}
