namespace DmxProbe.Analysis.Locate;

/// <summary>The changes of all slots of one history within a window, unpacked: times relative to the window's first sample.</summary>
internal sealed class UniverseWindow
{
    private readonly int[] _starts = new int[SlotHistory.SlotCount + 1];
    private readonly byte[] _initial = new byte[SlotHistory.SlotCount];
    private int[] _at = new int[1024];
    private byte[] _level = new byte[1024];

    /// <summary>Unpacks a history; the arrays are used again.</summary>
    public void Load(SlotHistory history, int first, int count)
    {
        int used = 0;
        for (int slot = 0; slot < SlotHistory.SlotCount; slot++)
        {
            _starts[slot] = used;
            _initial[slot] = 0;
            SlotChanges changes = history[slot];
            int place = 0;
            int sample = 0;
            while (changes.Next(ref place, ref sample, out byte level) && sample < first + count)
            {
                if (sample <= first)
                {
                    _initial[slot] = level;
                    continue;
                }

                if (used == _at.Length)
                {
                    Array.Resize(ref _at, used * 2);
                    Array.Resize(ref _level, used * 2);
                }

                _at[used] = sample - first;
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
