using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// What sACN sources say they send. Pages 0 to last with the same last page inside one interval of 10 s are one list
/// (our reading: the packets carry no set number, standards-facts B4).
/// </summary>
public sealed class DiscoveryTable
{
    private const int MostPages = 256;
    private static readonly Duration Interval = Duration.FromSeconds(10);
    private readonly Dictionary<int, Entry> _entries = [];

    /// <summary>Starts a page of a source's list.</summary>
    /// <returns>Where its universes go.</returns>
    internal List<int> Page(int sender, Timestamp time, byte page, byte lastPage)
    {
        if (!_entries.TryGetValue(sender, out Entry? entry))
        {
            entry = new Entry();
            _entries.Add(sender, entry);
        }

        if (entry.LastPage != lastPage || page == 0 || time - entry.Started > Interval)
        {
            entry.Pages.Clear();
            entry.Started = time;
            entry.LastPage = lastPage;
        }

        entry.Packets++;
        if (page == 0)
        {
            entry.SetStarts(time);
        }

        List<int> universes = [];
        if (entry.Pages.Count < MostPages)
        {
            entry.Pages[page] = universes;
        }

        return universes;
    }

    /// <summary>Takes over a list when its last page has come.</summary>
    internal void Settle(int sender)
    {
        Entry entry = _entries[sender];
        if (entry.Pages.Count == entry.LastPage + 1)
        {
            entry.Whole = All(entry);
            entry.WholeAt = entry.Started;
        }
    }

    /// <summary>The lists, by order of the sources' first packet.</summary>
    public IReadOnlyList<DiscoverySummary> Snapshot(SenderTable senders) =>
    [
        .. _entries.Select(pair => new DiscoverySummary
        {
            Sender = senders.Describe(pair.Key),
            Universes = pair.Value.Whole ?? All(pair.Value),
            Complete = pair.Value.Whole is not null,
            Packets = pair.Value.Packets,
            Sets = pair.Value.Sets,
            First = pair.Value.First,
            Last = pair.Value.LastSet,
            CompleteAt = pair.Value.WholeAt,
            LongestPause = pair.Value.LongestPause,
            CrowdedSets = pair.Value.Crowded,
        }),
    ];

    private static List<int> All(Entry entry) => [.. entry.Pages.Values.SelectMany(page => page).Distinct().Order()];

    private sealed class Entry
    {
        public Dictionary<byte, List<int>> Pages { get; } = [];

        public List<int>? Whole { get; set; }

        public Timestamp WholeAt { get; set; }

        public long Sets { get; private set; }

        public Timestamp First { get; private set; }

        public Timestamp LastSet { get; private set; }

        public Duration LongestPause { get; private set; }

        /// <summary>Sets that came as the third, or later, within one interval.</summary>
        public long Crowded { get; private set; }

        private Timestamp SetBefore { get; set; }

        public Timestamp Started { get; set; }

        public int LastPage { get; set; } = -1;

        public long Packets { get; set; }

        public void SetStarts(Timestamp time)
        {
            Sets++;
            if (Sets == 1)
            {
                First = time;
            }
            else
            {
                Duration pause = time - LastSet;
                LongestPause = pause > LongestPause ? pause : LongestPause;
            }

            // A tenth of the interval is allowed for clocks that waver.
            Crowded += Sets > 2 && (time - SetBefore).TotalSeconds < Interval.TotalSeconds * 0.9 ? 1 : 0;
            SetBefore = LastSet;
            LastSet = time;
        }
    }
}
