using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>What a universe carried at the near tap over time, to be looked up by content.</summary>
internal sealed class LinkContents
{
    private readonly IReadOnlyList<OutputChange> _changes;
    private readonly Dictionary<ulong, List<int>> _byHash = [];

    /// <summary>Takes in the contents.</summary>
    /// <param name="changes">Each change, by time.</param>
    /// <param name="mask">Slots that do not count; null: all count.</param>
    /// <param name="slots">Slots compared.</param>
    public LinkContents(IReadOnlyList<OutputChange> changes, bool[]? mask, int slots)
    {
        _changes = changes;
        ulong last = 0;
        for (int i = 0; i < changes.Count; i++)
        {
            ulong hash = Hash(changes[i].Slots, mask, slots);
            if (i > 0 && hash == last)
            {
                continue; // what changed is masked
            }

            last = hash;
            Distinct.Add((changes[i].Time, hash, i));
            if (!_byHash.TryGetValue(hash, out List<int>? places))
            {
                _byHash[hash] = places = [];
            }

            places.Add(Distinct.Count - 1);
        }
    }

    /// <summary>Contents that differ from the one before: when, hash, place among the changes.</summary>
    public List<(Timestamp Time, ulong Hash, int Change)> Distinct { get; } = [];

    /// <summary>A number for slots with some left out.</summary>
    public static ulong Hash(byte[] slots, bool[]? mask, int count)
    {
        if (mask is null)
        {
            return SlotHash.Of(slots, count);
        }

        byte[] masked = slots[..count];
        for (int slot = 0; slot < count; slot++)
        {
            masked[slot] = mask[slot] ? (byte)0 : masked[slot];
        }

        return SlotHash.Of(masked, count);
    }

    /// <summary>When the content that stood from a place on was left behind; the end of time for the last.</summary>
    public Timestamp EndOf(int place) => place + 1 < Distinct.Count ? Distinct[place + 1].Time : Timestamp.MaxValue;

    /// <summary>The latest place not later than a time that has a content; -1 where there is none.</summary>
    public int Latest(ulong hash, Timestamp time)
    {
        if (!_byHash.TryGetValue(hash, out List<int>? places))
        {
            return -1;
        }

        int low = 0;
        int high = places.Count - 1;
        int found = -1;
        while (low <= high)
        {
            int middle = (low + high) / 2;
            if (Distinct[places[middle]].Time <= time)
            {
                found = places[middle];
                low = middle + 1;
            }
            else
            {
                high = middle - 1;
            }
        }

        return found;
    }

    /// <summary>The places whose contents stood in a span.</summary>
    public IEnumerable<int> In(Timestamp from, Timestamp to)
    {
        int low = 0;
        int high = Distinct.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (Distinct[middle].Time <= to)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        for (int place = low - 1; place >= 0; place--)
        {
            yield return place;
            if (Distinct[place].Time <= from)
            {
                yield break;
            }
        }
    }

    /// <summary>The slots of a place.</summary>
    public byte[] Slots(int place) => _changes[Distinct[place].Change].Slots;
}
