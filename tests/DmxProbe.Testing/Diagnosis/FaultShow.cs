using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>Changes the slots of one unit at a moment.</summary>
/// <param name="time">Nanoseconds since the start.</param>
/// <param name="slots">Its slots.</param>
public delegate void UnitLevels(long time, Span<byte> slots);

/// <summary>A show for a sheet: every unit lit and moving, with cues, fades and holds; then what is told otherwise.</summary>
public sealed class FaultShow
{
    private const long Cue = 3_000_000_000;
    private const long Fade = 1_000_000_000;
    private const int Cues = 64;
    private readonly Dictionary<PatchUnit, (ChartMode Mode, byte[][] Table)> _tables = [];
    private readonly IReadOnlyList<PatchUnit> _units;

    /// <summary>Draws a show.</summary>
    public FaultShow(IReadOnlyList<PatchUnit> units, ChartSet charts, ulong seed)
    {
        _units = [.. units.Where(unit => charts.Find(unit.Type, unit.Mode) is not null)];
        foreach ((int index, PatchUnit unit) in _units.Index())
        {
            ChartMode mode = charts.Find(unit.Type, unit.Mode)!;
            SeededRandom random = SeededRandom.For(seed, (ulong)index);
            byte[][] table = [.. Enumerable.Range(0, mode.Footprint).Select(slot => Enumerable.Range(0, Cues).Select(_ => (byte)random.Next(60, 256)).ToArray())];
            _tables[unit] = (mode, table);
        }
    }

    /// <summary>What units are told otherwise.</summary>
    public Dictionary<PatchUnit, UnitLevels> Otherwise { get; } = [];

    /// <summary>True where the look never changes.</summary>
    public bool Still { get; set; }

    /// <summary>The levels of a universe of the sheet.</summary>
    public LevelSource Of(int sheetUniverse)
    {
        PatchUnit[] units = [.. _units.Where(unit => unit.Universe == sheetUniverse)];
        return (time, slots) =>
        {
            slots.Clear();
            Span<byte> room64 = stackalloc byte[64];
            foreach (PatchUnit unit in units)
            {
                Span<byte> own = room64[.._tables[unit].Mode.Footprint];
                Fill(unit, Still ? 0 : time, own);
                if (Otherwise.TryGetValue(unit, out UnitLevels? otherwise))
                {
                    otherwise(time, own);
                }

                int room = Math.Min(own.Length, slots.Length - unit.Address + 1);
                if (room > 0)
                {
                    own[..room].CopyTo(slots[(unit.Address - 1)..]);
                }
            }
        };
    }

    private void Fill(PatchUnit unit, long time, Span<byte> slots)
    {
        (ChartMode mode, byte[][] table) = _tables[unit];
        slots.Clear();
        int cue = (int)(time / Cue % Cues), before = (cue + Cues - 1) % Cues;
        long into = time % Cue;
        // A slow move there and back in 40 s, high byte and low byte.
        long phase = time % 40_000_000_000;
        long move = 16_000 + (phase < 20_000_000_000 ? phase : 40_000_000_000 - phase) / 1_000_000;
        foreach (ChartSlot slot in mode.Slots)
        {
            byte[] values = table[slot.Slot - 1];
            switch (slot.Role)
            {
                case SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White:
                    slots[slot.Slot - 1] = into >= Fade || cue == 0 ? values[cue] : (byte)(values[before] + ((values[cue] - values[before]) * (into / 1_000) / (Fade / 1_000)));
                    break;
                case SlotRole.Position:
                    slots[slot.Slot - 1] = (byte)(move >> 8);
                    break;
                case SlotRole.Fine:
                    slots[slot.Slot - 1] = (byte)(move & 0xFF);
                    break;
                case SlotRole.Beam:
                    slots[slot.Slot - 1] = 128;
                    break;
                default:
                    break;
            }
        }
    }
}
