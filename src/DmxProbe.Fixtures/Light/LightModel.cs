using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Light;

/// <summary>
/// Turns the slots of one mode into the light expected: intensity x shutter x colour mix. Compiled once per mode into
/// tables of 256 values per slot; <see cref="Predict"/> allocates nothing and may be called from several threads.
/// </summary>
/// <remarks>
/// A mode without colour slots gives white light of its intensity; a mode with colour but without intensity gives the
/// colour mix (the controller's virtual intensity); a mode with neither stays dark. Several slots of one colour (cells,
/// warm and cold white) are averaged, then the colours add and are clamped to 1; intensities of cells are averaged, other
/// intensities multiply. A range that holds only while another slot is in a range is followed. Values of more than 16 bit
/// are taken as 16 bit.
/// </remarks>
public sealed class LightModel
{
    private readonly LightTable[] _gates;
    private readonly LightTable[] _cellGates;
    private readonly LightTable[] _emitters;
    private readonly EmitterMix[] _mixes;
    private readonly int[] _lightSlots;
    private readonly bool _lit;

    /// <summary>Compiles the model of a mode.</summary>
    /// <param name="mode">The mode; its ranges need not be complete: values no range names count as unknown.</param>
    public LightModel(ChartMode mode)
    {
        ArgumentNullException.ThrowIfNull(mode);
        Mode = mode;
        LightCompiler compiler = new(mode);
        _gates = [.. compiler.Gates];
        _cellGates = [.. compiler.CellGates];
        _emitters = [.. compiler.Emitters];
        _mixes = [.. compiler.Mixes];
        _lit = compiler.HasIntensity || _emitters.Length > 0;
        _lightSlots = _lit ? [.. compiler.LightSlots] : [];
        UsesColour = _emitters.Length > 0;
    }

    /// <summary>The mode it was compiled from.</summary>
    public ChartMode Mode { get; }

    /// <summary>Whether the mode mixes colours; false when its light is always white in this model.</summary>
    public bool UsesColour { get; }

    /// <summary>
    /// The slots of the mode, from 1 and in order, that can change the light; slots that can only make it unpredictable
    /// are not among them. Empty for a mode that is always dark. A caller may skip an address whose light slots never change.
    /// </summary>
    public IReadOnlyList<int> LightSlots => _lightSlots;

    /// <summary>Predicts the light.</summary>
    /// <param name="slots">The slots from the start address on; what is missing counts as not sent (0), what is beyond the mode is ignored.</param>
    /// <returns>The light expected; all parts are 0 where it is not predictable.</returns>
    public LightOutput Predict(ReadOnlySpan<byte> slots)
    {
        if (!_lit)
        {
            return new LightOutput(0, 0, 0, true);
        }

        float gate = 1;
        bool flashing = false;
        foreach (ref readonly LightTable table in _gates.AsSpan())
        {
            float value = table.Read(slots);
            if (value == LightTable.Flashing)
            {
                flashing = true;
            }
            else
            {
                gate *= value; // LightTable.Unpredictable is NaN: it survives every product, also one with 0.
            }
        }

        if (_cellGates.Length > 0)
        {
            gate *= Cells(slots, ref flashing);
        }

        if (float.IsNaN(gate))
        {
            return default;
        }

        if (gate == 0)
        {
            return new LightOutput(0, 0, 0, true);
        }

        LightOutput light = UsesColour ? Mixed(slots, gate) : new LightOutput(gate, gate, gate, true);

        // Strobe without any light behind it is dark, and that can be predicted.
        return flashing && light.Red + light.Green + light.Blue > 0 ? default : light;
    }

    /// <summary>The mean of the intensities of the cells.</summary>
    private float Cells(ReadOnlySpan<byte> slots, ref bool flashing)
    {
        float sum = 0;
        foreach (ref readonly LightTable table in _cellGates.AsSpan())
        {
            float value = table.Read(slots);
            flashing |= value == LightTable.Flashing;
            sum += value == LightTable.Flashing ? 1 : value;
        }

        return sum / _cellGates.Length;
    }

    /// <summary>The colour mix; apart from <see cref="Predict"/> so that the compiler tunes it to modes that have one.</summary>
    private LightOutput Mixed(ReadOnlySpan<byte> slots, float gate)
    {
        float red = 0, green = 0, blue = 0;
        ReadOnlySpan<EmitterMix> mixes = _mixes;
        ReadOnlySpan<LightTable> emitters = _emitters;
        for (int i = 0; i < emitters.Length && i < mixes.Length; i++)
        {
            float value = emitters[i].Read(slots);
            red += value * mixes[i].Red;
            green += value * mixes[i].Green;
            blue += value * mixes[i].Blue;
        }

        return new LightOutput(gate * (red < 1 ? red : 1), gate * (green < 1 ? green : 1), gate * (blue < 1 ? blue : 1), true);
    }
}
