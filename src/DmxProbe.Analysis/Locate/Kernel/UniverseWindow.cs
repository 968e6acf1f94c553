namespace DmxProbe.Analysis.Locate;

/// <summary>The changes of all slots of one history within a window, unpacked: times relative to the window's first sample.</summary>
internal sealed class UniverseWindow
{
    private readonly int[] _starts = new int[SlotHistory.SlotCount + 1];
    private readonly byte[] _initial = new byte[SlotHistory.SlotCount];
    private int[] _at = new int[1024];
    private byte[] _level = new byte[1024];

    /// <summary>Unpacks a history; the arrays are used again.</summary>
    /// <param name="history">The history.</param>
    /// <param name="places">Its samples that are compared, rising; what changes between two of them changes at the second.</param>
    public void Load(SlotHistory history, int[] places)
    {
        int first = places[0];
        int last = places[^1];
        bool whole = last - first == places.Length - 1;
        int used = 0;
        for (int slot = 0; slot < SlotHistory.SlotCount; slot++)
        {
            _starts[slot] = used;
            _initial[slot] = 0;
            SlotChanges changes = history[slot];
            int place = 0;
            int sample = 0;
            while (changes.Next(ref place, ref sample, out byte level) && sample <= last)
            {
                if (sample <= first)
                {
                    _initial[slot] = level;
                    continue;
                }

                int at = sample - first;
                if (!whole)
                {
                    int found = Array.BinarySearch(places, sample);
                    at = found >= 0 ? found : ~found;
                    if (used > _starts[slot] && _at[used - 1] == at)
                    {
                        _level[used - 1] = level;
                        continue;
                    }
                }

                if (used == _at.Length)
                {
                    Array.Resize(ref _at, used * 2);
                    Array.Resize(ref _level, used * 2);
                }

                _at[used] = at;
                _level[used++] = level;
            }
        }

        _starts[SlotHistory.SlotCount] = used;
    }

    public ReadOnlySpan<byte> Initial => _initial;

    public ReadOnlySpan<int> Starts => _starts;

    public ReadOnlySpan<int> At => _at;

    public ReadOnlySpan<byte> Level => _level;
}
