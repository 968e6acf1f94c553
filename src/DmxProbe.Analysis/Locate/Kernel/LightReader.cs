using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Locate;

/// <summary>Reads the light that one mode would give at any address of a window.</summary>
internal sealed class LightReader
{
    private readonly LightModel _model;
    private readonly int[] _offsets;
    private readonly int[][] _emitters;
    private readonly byte[] _levels;
    private readonly byte[] _shown;
    private readonly int[] _head;
    private readonly int[] _end;

    public LightReader(ChartMode mode)
    {
        _model = new LightModel(mode);
        _offsets =
        [
            .. mode.Slots.Where(CanMatter).Select(slot => slot.Slot).Concat(_model.LightSlots).Distinct().Order().Select(slot => slot - 1),
        ];
        _emitters = [.. mode.Slots.Where(IsColour).GroupBy(slot => slot.Role).Select(same => same.Select(slot => slot.Slot - 1).ToArray())];
        _levels = new byte[Math.Max(mode.Footprint, 1)];
        _shown = new byte[_levels.Length];
        _head = new int[_offsets.Length];
        _end = new int[_offsets.Length];
    }

    /// <summary>Colours mixed; 0 or 1 where there is nothing to take apart.</summary>
    public int EmitterCount => _emitters.Length;

    /// <summary>Predicts into <paramref name="prediction"/>; false where no slot that matters changes.</summary>
    /// <param name="window">The universe.</param>
    /// <param name="address">Start address, from 1.</param>
    /// <param name="samples">Length of the window.</param>
    /// <param name="emitter">-1 = all; else the light of one colour alone.</param>
    /// <param name="prediction">Overwritten.</param>
    public bool Read(UniverseWindow window, int address, int samples, int emitter, Prediction prediction)
    {
        prediction.Clear(samples);
        ReadOnlySpan<int> starts = window.Starts;
        int present = Math.Min(_levels.Length, SlotHistory.SlotCount - address + 1);
        window.Initial.Slice(address - 1, present).CopyTo(_levels);
        bool moves = false;
        int heads = 0;
        while (heads < _offsets.Length && _offsets[heads] < present)
        {
            int slot = address - 1 + _offsets[heads];
            _head[heads] = starts[slot];
            _end[heads] = starts[slot + 1];
            moves |= _head[heads] < _end[heads];
            heads++;
        }

        if (!moves)
        {
            return false;
        }

        Walk(window, heads, present, samples, emitter, prediction);
        return prediction.Count > 0;
    }

    private void Walk(UniverseWindow window, int heads, int present, int samples, int emitter, Prediction prediction)
    {
        ReadOnlySpan<int> at = window.At;
        ReadOnlySpan<byte> level = window.Level;
        Span<float> value = stackalloc float[prediction.Value.Length];
        int now = 0;
        int maskedFrom = -1;
        while (now < samples)
        {
            LightOutput light = Predict(present, emitter);
            if (light.Predictable)
            {
                if (maskedFrom >= 0)
                {
                    prediction.Mask(maskedFrom, now);
                    maskedFrom = -1;
                }

                if (value.Length == 1)
                {
                    value[0] = light.Luminance;
                }
                else
                {
                    value[0] = light.Red;
                    value[1] = light.Green;
                    value[2] = light.Blue;
                }

                // The first known value also stands for what came before it.
                prediction.Add(prediction.Count == 0 ? 0 : now, value);
            }
            else if (maskedFrom < 0)
            {
                maskedFrom = now;
            }

            int next = samples;
            for (int h = 0; h < heads; h++)
            {
                if (_head[h] < _end[h])
                {
                    next = Math.Min(next, at[_head[h]]);
                }
            }

            for (int h = 0; h < heads; h++)
            {
                if (_head[h] < _end[h] && at[_head[h]] == next)
                {
                    _levels[_offsets[h]] = level[_head[h]++];
                }
            }

            now = next;
        }

        if (maskedFrom >= 0)
        {
            prediction.Mask(maskedFrom, samples);
        }
    }

    private LightOutput Predict(int present, int emitter)
    {
        if (emitter < 0)
        {
            return _model.Predict(_levels.AsSpan(0, present));
        }

        _levels.CopyTo(_shown, 0);
        for (int e = 0; e < _emitters.Length; e++)
        {
            if (e != emitter)
            {
                foreach (int offset in _emitters[e])
                {
                    _shown[offset] = 0;
                }
            }
        }

        return _model.Predict(_shown.AsSpan(0, present));
    }

    private static bool IsColour(ChartSlot slot) =>
        slot.Role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber;

    /// <summary>Slots that may at least make the light unpredictable; the model has the last word.</summary>
    private static bool CanMatter(ChartSlot slot) =>
        slot.Role is SlotRole.Shutter or SlotRole.Programme ||
        slot.Ranges.Any(range => range.Effect is RangeEffect.ProgrammeRuns or RangeEffect.ControlAction) ||
        slot.Exact.Any(range => range.Effect is RangeEffect.ProgrammeRuns or RangeEffect.ControlAction);
}
