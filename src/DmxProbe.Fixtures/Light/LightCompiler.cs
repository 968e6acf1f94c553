using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Light;

/// <summary>Turns a mode into the tables of a <see cref="LightModel"/>; used once and thrown away.</summary>
internal sealed class LightCompiler
{
    private const int Values = 256;
    private readonly SortedSet<int> _lightSlots = [];
    private readonly Dictionary<int, int> _fineOf;
    private readonly ChartMode _mode;

    public LightCompiler(ChartMode mode)
    {
        _mode = mode;
        _fineOf = FineSlots.Of(mode);
        Dictionary<SlotRole, int> counts = mode.Slots.GroupBy(slot => slot.Role).ToDictionary(same => same.Key, same => same.Count());
        foreach (ChartSlot slot in mode.Slots)
        {
            bool guards = false;
            LightTable guard = Switched(slot, lights: false, plain => Guard(plain, ref guards));
            if (guards)
            {
                Gates.Add(guard);
            }

            if (SaysNothing(slot))
            {
                continue;
            }

            switch (slot.Role)
            {
                case SlotRole.Intensity:
                    HasIntensity = true;
                    (slot.Cell.Length > 0 ? CellGates : Gates).Add(Switched(slot, lights: true, plain => Table(plain, Amount)));
                    break;
                case SlotRole.Shutter:
                    Gates.Add(Switched(slot, lights: true, Shutter));
                    break;
                case SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber:
                    Emitters.Add(Switched(slot, lights: true, plain => Table(plain, ColourAmount)));
                    Mixes.Add(MixOf(slot.Role).Over(counts[slot.Role]));
                    break;
                default:
                    break;
            }
        }
    }

    public List<LightTable> Gates { get; } = [];

    /// <summary>Intensities of the parts of a fixture (cells of a bar): their mean counts.</summary>
    public List<LightTable> CellGates { get; } = [];

    public List<LightTable> Emitters { get; } = [];

    public List<EmitterMix> Mixes { get; } = [];

    public bool HasIntensity { get; private set; }

    public IEnumerable<int> LightSlots => _lightSlots;

    private static EmitterMix MixOf(SlotRole role) => role switch
    {
        SlotRole.Red => EmitterMix.OfRed,
        SlotRole.Green => EmitterMix.OfGreen,
        SlotRole.Blue => EmitterMix.OfBlue,
        SlotRole.White => EmitterMix.OfWhite,
        _ => EmitterMix.OfAmber,
    };

    private static bool IsColour(SlotRole role) =>
        role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber;

    private static bool SaysNothing(ChartSlot slot) => slot.Ranges.Count > 0 && slot.Ranges.All(range => range.Effect == RangeEffect.NoFunction);

    /// <summary>The table of a slot with a case for each condition its ranges depend on.</summary>
    private LightTable Switched(ChartSlot slot, bool lights, Func<ChartSlot, LightTable> make)
    {
        IReadOnlyList<SlotCondition> conditions = SlotDetail.Conditions(slot);
        if (conditions.Count == 0)
        {
            return make(slot);
        }

        List<LightCase> cases = [];
        foreach (SlotCondition when in conditions)
        {
            if (_mode.Find(when.Slot) is { } master)
            {
                cases.Add(make(SlotDetail.While(slot, when)).While(when, master));
                if (lights)
                {
                    _lightSlots.UnionWith([master.Slot, .. master.LowSlots]);
                }
            }
        }

        return make(SlotDetail.While(slot, null)).With([.. cases]);
    }

    /// <summary>A slot that can take the fixture over: 1 where it does not, unpredictable where it may.</summary>
    private static LightTable Guard(ChartSlot slot, ref bool guards)
    {
        float[] values = Filled(slot.Role == SlotRole.Programme ? LightTable.Unpredictable : 1);
        foreach (ChartRange range in slot.Ranges)
        {
            bool takesOver = range.Effect is RangeEffect.ProgrammeRuns or RangeEffect.ControlAction ||
                (slot.Role == SlotRole.Programme && range.Effect != RangeEffect.NoFunction) ||
                (IsColour(slot.Role) && (range.Effect is RangeEffect.Unknown or RangeEffect.Flashing or RangeEffect.Fixed)) ||
                (slot.Role is SlotRole.Beam or SlotRole.Position && range.Effect == RangeEffect.Flashing) ||
                (slot.Role == SlotRole.OtherEmitter && range.Effect is not (RangeEffect.NoFunction or RangeEffect.Closed));
            Fill(values, range, takesOver ? LightTable.Unpredictable : 1);
            if (slot.Role == SlotRole.OtherEmitter && range is { From: 0, Effect: RangeEffect.Proportional })
            {
                values[0] = 1; // not lit
            }
        }

        guards |= values.Any(float.IsNaN);
        return new LightTable(slot.Slot - 1, values, LightTable.NoFine);
    }

    private LightTable Shutter(ChartSlot slot)
    {
        float[] values = Filled(LightTable.Unpredictable);
        foreach (ChartRange range in slot.Ranges)
        {
            Fill(values, range, range.Effect switch
            {
                RangeEffect.Closed => 0,
                RangeEffect.Open or RangeEffect.NoFunction or RangeEffect.Proportional => 1,
                RangeEffect.Flashing => LightTable.Flashing,
                _ => LightTable.Unpredictable,
            });
        }

        if (values.Any(value => !value.Equals(values[0])))
        {
            _lightSlots.Add(slot.Slot);
        }

        return new LightTable(slot.Slot - 1, values, LightTable.NoFine);
    }

    private LightTable Table(ChartSlot slot, Func<ChartRange, float> fixedAmount)
    {
        _lightSlots.Add(slot.Slot);
        float[] values = Filled(fixedAmount(new ChartRange(0, Values - 1, "", RangeEffect.Unknown)));
        if (slot.Ranges.Count > 0 && slot.Ranges.All(range => range.Effect == RangeEffect.Proportional) && slot.Ranges[0].From == 0 && slot.Ranges[^1].To == Values - 1 &&
            _fineOf.TryGetValue(slot.Slot, out int fine))
        {
            _lightSlots.Add(fine);
            Ramp(values, 0, Values - 1, Values / 65535f * (Values - 1));
            return new LightTable(slot.Slot - 1, values, fine - 1);
        }

        for (int i = 0; i < slot.Ranges.Count; i++)
        {
            ChartRange range = slot.Ranges[i];
            if (range.Effect != RangeEffect.Proportional)
            {
                Fill(values, range, fixedAmount(range));
                continue;
            }

            // Charts cut one ramp into words ("dark to half", "half to full"): neighbours that are both proportional are one ramp.
            int last = i;
            while (last + 1 < slot.Ranges.Count && slot.Ranges[last + 1].Effect == RangeEffect.Proportional &&
                slot.Ranges[last + 1].From == slot.Ranges[last].To + 1)
            {
                last++;
            }

            Ramp(values, range.From, slot.Ranges[last].To, 1);
            i = last;
        }

        return new LightTable(slot.Slot - 1, values, LightTable.NoFine);
    }

    private static float Amount(ChartRange range) => range.Effect switch
    {
        RangeEffect.Open => 1,
        RangeEffect.Closed or RangeEffect.NoFunction => 0,
        RangeEffect.Flashing => LightTable.Flashing,
        _ => LightTable.Unpredictable,
    };

    // A colour slot's own guard speaks for its programmes; what else it does beside a ramp is taken as no light of that colour.
    private static float ColourAmount(ChartRange range) => range.Effect == RangeEffect.Open ? 1 : 0;

    private static float[] Filled(float value)
    {
        float[] values = new float[Values];
        Array.Fill(values, value);
        return values;
    }

    private static void Fill(float[] values, ChartRange range, float value)
    {
        for (int i = Math.Max(range.From, 0); i <= Math.Min(range.To, Values - 1); i++)
        {
            values[i] = value;
        }
    }

    private static void Ramp(float[] values, int from, int to, float top)
    {
        for (int i = Math.Max(from, 0); i <= Math.Min(to, Values - 1); i++)
        {
            values[i] = top * (to > from ? (i - from) / (float)(to - from) : i / (float)(Values - 1));
        }
    }
}
