using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Testing.Rigs;

/// <summary>Runs a show on a plan and writes down every sample of 1/30 s.</summary>
public sealed class RigShow
{
    private const int Rate = 30;
    private readonly RigRandom _random;
    private readonly RigPlan _plan;
    private readonly RigUnit[][] _groups;
    private readonly RigLevels _levels = new();
    private readonly int[] _chaseEnd;
    private readonly int[] _chaseStep;
    private readonly int[] _chaseLength;
    private readonly bool[] _chaseHalves;

    private RigShow(RigPlan plan, RigRandom random)
    {
        _plan = plan;
        _random = random;
        _groups = [.. Enumerable.Range(0, plan.Groups).Select(group => plan.Units.Where(unit => unit.Group == group).ToArray())];
        _chaseEnd = new int[plan.Groups];
        _chaseStep = new int[plan.Groups];
        _chaseLength = new int[plan.Groups];
        _chaseHalves = new bool[plan.Groups];
    }

    /// <summary>Runs the show.</summary>
    /// <returns>Levels by universe, sample and slot; the last universe is the one nobody captures.</returns>
    public static byte[][][] Run(RigPlan plan, RigShowKind kind, int samples, RigRandom random)
    {
        RigShow show = new(plan, random);
        byte[][][] levels = [.. Enumerable.Range(0, RigPlan.Captured + 1).Select(_ => new byte[samples][])];
        show.Open();
        IEnumerator<int> script = (kind == RigShowKind.Soundcheck ? show.Soundcheck() : show.Cues(kind == RigShowKind.Busy)).GetEnumerator();
        int next = 0;
        int chase = kind == RigShowKind.Busy ? (int)random.Between(0, 30 * Rate) : int.MaxValue;
        for (int t = 0; t < samples; t++)
        {
            while (t >= next)
            {
                show._now = t;
                script.MoveNext();
                next = Math.Max(t + 1, script.Current);
            }

            show._now = t;
            if (t >= chase)
            {
                show.StartChases();
                chase = t + (15 * Rate) + (int)random.Between(0, 30 * Rate);
            }

            show.StepChases();
            for (int u = 0; u < levels.Length; u++)
            {
                levels[u][t] = new byte[512];
                show._levels.Write(u, t, levels[u][t]);
            }
        }

        return levels;
    }

    private int _now;

    /// <summary>Shutters open, everything else at 0.</summary>
    private void Open()
    {
        foreach (RigUnit unit in _plan.Units)
        {
            foreach (ChartSlot slot in unit.Mode.Slots.Where(slot => slot.Role == SlotRole.Shutter))
            {
                ChartRange open = slot.Ranges.First(range => range.Effect is RangeEffect.Open or RangeEffect.NoFunction);
                _levels.Set(unit, slot.Slot, open.To, 0, 0);
            }
        }
    }

    private IEnumerable<int> Cues(bool busy)
    {
        bool first = true;
        double time = 0;
        while (true)
        {
            double[] fades = busy ? [0, 0, 0.5] : [0, 1, 3];
            int fade = first ? 0 : (int)(_random.Pick(fades) * Rate);
            for (int g = 0; g < _groups.Length; g++)
            {
                bool changes = _random.Chance(0.6) || first;
                bool equal = _random.Chance(0.5);
                if (!changes || _chaseEnd[g] > _now)
                {
                    continue;
                }

                double[] look = RigLook.Draw(_groups[g][0].Mode, _random);
                foreach (RigUnit unit in _groups[g])
                {
                    Apply(unit, equal ? look : RigLook.Draw(unit.Mode, _random), fade);
                }
            }

            first = false;
            time += 2 + _random.Exponential(busy ? 2 : 10);
            yield return (int)(time * Rate);
        }
    }

    private IEnumerable<int> Soundcheck()
    {
        RigUnit[] units = [.. _plan.Units];
        double time = 0;
        while (true)
        {
            RigUnit unit = _random.Pick(units);
            double end = time + 4 + _random.Exponential(6);
            ChartSlot[] faders = [.. unit.Mode.Slots.Where(RigLook.IsMoved)];
            foreach (ChartSlot slot in faders.Where(slot => slot.Role == SlotRole.Intensity))
            {
                _levels.Set(unit, slot.Slot, 255, _now, 0);
            }

            while (time < end)
            {
                ChartSlot slot = _random.Pick(faders);
                double level = _random.Chance(0.3) ? 255 : _random.Chance(0.3) ? 0 : _random.Between(20, 255);
                _levels.Set(unit, slot.Slot, level, _now, _random.Chance(0.5) ? 0 : Rate / 2);
                time += 0.3 + _random.Exponential(1.5);
                yield return (int)(time * Rate);
            }

            foreach (ChartSlot slot in faders)
            {
                _levels.Set(unit, slot.Slot, 0, _now, 0);
            }
        }
    }

    private void Apply(RigUnit unit, double[] look, int fade)
    {
        for (int s = 0; s < look.Length; s++)
        {
            if (!double.IsNaN(look[s]))
            {
                _levels.Set(unit, s + 1, look[s], _now, fade);
            }
        }
    }

    private void StartChases()
    {
        int[] groups = [.. Enumerable.Range(0, _groups.Length)];
        _random.Shuffle(groups);
        foreach (int g in groups.Take(2 + _random.Below(2)))
        {
            _chaseEnd[g] = _now + (15 * Rate);
            _chaseStep[g] = 0;
            _chaseLength[g] = (int)_random.Between(0.2 * Rate, 0.6 * Rate);
            _chaseHalves[g] = _random.Chance(0.5);
            double[] look = RigLook.Draw(_groups[g][0].Mode, _random);
            foreach (RigUnit unit in _groups[g])
            {
                Apply(unit, look, 0);
            }
        }
    }

    private void StepChases()
    {
        for (int g = 0; g < _groups.Length; g++)
        {
            if (_chaseEnd[g] <= _now || _chaseStep[g]++ % _chaseLength[g] != 0)
            {
                continue;
            }

            int step = (_chaseStep[g] - 1) / _chaseLength[g];
            for (int i = 0; i < _groups[g].Length; i++)
            {
                bool on = _chaseHalves[g] ? i % 2 == step % 2 : i == step % _groups[g].Length;
                RigUnit unit = _groups[g][i];
                SlotRole[] roles = unit.Mode.Slots.Any(slot => slot.Role == SlotRole.Intensity)
                    ? [SlotRole.Intensity]
                    : [SlotRole.Red, SlotRole.Green, SlotRole.Blue];
                foreach (ChartSlot slot in unit.Mode.Slots.Where(slot => roles.Contains(slot.Role)))
                {
                    _levels.Set(unit, slot.Slot, on ? 255 : 0, _now, 0);
                }
            }
        }
    }
}
