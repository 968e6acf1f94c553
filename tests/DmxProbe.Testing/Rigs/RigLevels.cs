namespace DmxProbe.Testing.Rigs;

/// <summary>The levels of the universes while a show runs, with fades.</summary>
public sealed class RigLevels
{
    private readonly double[] _from = new double[(RigPlan.Captured + 1) * 512];
    private readonly double[] _to = new double[(RigPlan.Captured + 1) * 512];
    private readonly int[] _start = new int[(RigPlan.Captured + 1) * 512];
    private readonly int[] _length = new int[(RigPlan.Captured + 1) * 512];

    /// <summary>Sends a slot to a level.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="slot">Slot of the unit from 1.</param>
    /// <param name="level">0 to 255.</param>
    /// <param name="sample">Now.</param>
    /// <param name="fade">Samples the way takes; 0 = at once.</param>
    public void Set(RigUnit unit, int slot, double level, int sample, int fade)
    {
        int at = (unit.Universe * 512) + unit.Address + slot - 2;
        _from[at] = At(at, sample);
        _to[at] = level;
        _start[at] = sample;
        _length[at] = fade;
    }

    /// <summary>Writes the levels of a universe.</summary>
    public void Write(int universe, int sample, Span<byte> slots)
    {
        for (int i = 0; i < slots.Length; i++)
        {
            slots[i] = (byte)Math.Round(At((universe * 512) + i, sample));
        }
    }

    private double At(int at, int sample)
    {
        int gone = sample - _start[at];
        return gone >= _length[at] ? _to[at] : _from[at] + ((_to[at] - _from[at]) * gone / _length[at]);
    }
}
