using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>Causes put into what a unit is told, and into the sheet.</summary>
internal static class UnitInjections
{
    private const long Second = 1_000_000_000;
    private static readonly UniverseProtocol[] Both = [UniverseProtocol.Sacn, UniverseProtocol.ArtNet];

    /// <summary>The ways.</summary>
    public static IReadOnlyList<FaultInjection> List { get; } =
    [
        Told("master-down", SlotRole.Red, SlotRole.Intensity, 0),
        Told("shutter-closed", SlotRole.Shutter, SlotRole.Shutter, 14),
        Told("strobe-left-on", SlotRole.Shutter, SlotRole.Shutter, 120),
        Told("colours-overridden", SlotRole.Programme, SlotRole.Programme, 90, first: true),
        Told("programme-runs", SlotRole.Programme, SlotRole.Programme, 90, first: false),
        Told("beam-closed", SlotRole.Beam, SlotRole.Beam, 3),
        Told("slow-speed-slot", SlotRole.Speed, SlotRole.Speed, 220),
        Also("strobe-without-light", SlotRole.Shutter, (role, slots, at, _) => slots[at] = role switch
        {
            SlotRole.Shutter => 120,
            SlotRole.Intensity => 0,
            SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White => 0,
            _ => slots[at],
        }),
        Also("colours-down", SlotRole.Red, (role, slots, at, _) => slots[at] = role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White ? (byte)0 : slots[at]),
        Also("told-dark", SlotRole.Intensity, (role, slots, at, _) => slots[at] = role is SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White ? (byte)0 : slots[at], all: true),
        Also("control-action", SlotRole.Control, (role, slots, at, time) => slots[at] = role == SlotRole.Control && time > 10 * Second && time < 14 * Second ? (byte)210 : slots[at]),
        new("coarse-and-fine-swapped", Both, (rig, _) =>
        {
            PatchUnit unit = rig.UnitWith(SlotRole.Fine)!;
            rig.Show.Otherwise[unit] = (_, slots) => (slots[0], slots[1]) = (slots[1], slots[0]);
            rig.Complain([unit]);
        }),
        Sheet("address-overlap", (rig, mild) =>
        {
            PatchUnit[] units = rig.TargetUnits.Where(unit => unit.Type == "head").Take(2).ToArray();
            PatchUnit moved = units[1] with { Address = units[0].Address + (mild ? 13 : 5) };
            rig.Change(units[1], moved);
            return [units[0], moved];
        }),
        Sheet("footprint-past-512", (rig, mild) =>
        {
            PatchUnit unit = rig.TargetUnits.First(unit => unit.Type == "head");
            PatchUnit moved = unit with { Address = mild ? 500 : 510 };
            rig.Change(unit, moved);
            rig.Stream.Plan = rig.Stream.Plan with { SlotCount = 512 };
            return [moved];
        }),
        Sheet("unintended-shared-address", (rig, _) =>
        {
            PatchUnit[] units = rig.TargetUnits.Where(unit => unit is { Type: "wash", Mode: "10 slot" }).Take(2).ToArray();
            PatchUnit moved = units[1] with { Address = units[0].Address };
            rig.Change(units[1], moved);
            return [units[0], moved];
        }),
        Sheet("duplicate-unit", (rig, _) =>
        {
            PatchUnit[] units = rig.TargetUnits.Take(2).ToArray();
            PatchUnit twin = units[1] with { Unit = units[0].Unit };
            rig.Change(units[1], twin);
            return [units[0]];
        }),
        Sheet("chart-missing", (rig, mild) =>
        {
            PatchUnit unit = rig.TargetUnits.First(unit => unit.Type == "wash");
            PatchUnit odd = mild ? unit with { Mode = "12 slot" } : unit with { Type = "profile" };
            rig.Change(unit, odd);
            return [odd];
        }),
        Sheet("footprint-differs", (rig, mild) =>
        {
            PatchUnit unit = rig.TargetUnits.First(unit => unit.Type == "head");
            PatchUnit odd = unit with { StatedFootprint = mild ? 13 : 9 };
            rig.Change(unit, odd);
            return [odd];
        }),
        Sheet("spacing-too-narrow", (rig, mild) =>
        {
            // A row of units of one type, moved together; at least three, the last one added where the rig has two.
            PatchUnit[] row = rig.TargetUnits.Where(unit => unit.Type == "head").ToArray();
            if (row.Length < 3)
            {
                PatchUnit more = row[^1] with { Unit = FormattableString.Invariant($"R{rig.Target}"), Address = row[^1].Address + 14, Line = 200, ChainOrder = 60 };
                rig.Units.Add(more);
                row = [.. row, more];
            }

            for (int i = 1; i < row.Length; i++)
            {
                PatchUnit moved = row[i] with { Address = row[0].Address + (i * (mild ? 13 : 10)) };
                rig.Change(row[i], moved);
                row[i] = moved;
            }

            return row;
        }),
        Sheet("chain-of-two-universes", (rig, _) =>
        {
            PatchUnit unit = rig.TargetUnits[0];
            PatchUnit odd = unit with { Chain = "chain " + ((rig.Target % FaultRig.Universes) + 1), ChainOrder = 40 };
            rig.Change(unit, odd);
            return [odd];
        }),
        Sheet("chain-order-twice", (rig, _) =>
        {
            PatchUnit[] units = rig.TargetUnits.Take(2).ToArray();
            PatchUnit odd = units[1] with { ChainOrder = units[0].ChainOrder };
            rig.Change(units[1], odd);
            return [odd];
        }),
        Sheet("too-many-unit-loads", (rig, mild) =>
        {
            PatchUnit pattern = rig.TargetUnits[0];
            int count = (mild ? 33 : 40) - rig.TargetUnits.Count;
            for (int i = 0; i < count; i++)
            {
                rig.Units.Add(pattern with { Unit = FormattableString.Invariant($"D{rig.Target}-{i}"), Type = "dimmer", Mode = "1 slot", Address = 400 + i, Line = 300 + i, ChainOrder = 70 + i });
            }

            rig.Stream.Plan = rig.Stream.Plan with { SlotCount = 512 };
            return [pattern];
        }),
    ];

    // One slot of a role at a value, for all of the time or two thirds of it.
    private static FaultInjection Told(string id, SlotRole needs, SlotRole role, byte value, bool first = true) => new(id, Both, (rig, mild) =>
    {
        PatchUnit unit = rig.UnitWith(needs, id == "shutter-closed" ? RangeEffect.Closed : null)!;
        ChartMode mode = rig.Charts.Find(unit.Type, unit.Mode)!;
        ChartSlot[] slots = [.. mode.Slots.Where(slot => slot.Role == role)];
        ChartSlot slot = role == SlotRole.Programme ? slots.First(each => each.Function.Contains(first ? "macro" : "programme", StringComparison.OrdinalIgnoreCase)) : slots[0];
        long until = mild && role != SlotRole.Speed ? 20 * Second : long.MaxValue;
        rig.Show.Otherwise[unit] = (time, own) => own[slot.Slot - 1] = time < until ? value : own[slot.Slot - 1];
        rig.Complain([unit]);
    });

    private static FaultInjection Also(string id, SlotRole needs, Action<SlotRole, byte[], int, long> change, bool all = false) => new(id, Both, (rig, mild) =>
    {
        PatchUnit unit = rig.UnitWith(needs)!;
        ChartMode mode = rig.Charts.Find(unit.Type, unit.Mode)!;
        long until = mild && !all ? 25 * Second : long.MaxValue;
        byte[] copy = new byte[mode.Footprint];
        rig.Show.Otherwise[unit] = (time, own) =>
        {
            if (time >= until)
            {
                return;
            }

            own.CopyTo(copy);
            foreach (ChartSlot slot in mode.Slots)
            {
                change(slot.Role, copy, slot.Slot - 1, time);
            }

            copy.CopyTo(own);
        };
        rig.Complain([unit]);
    });

    private static FaultInjection Sheet(string id, Func<FaultRig, bool, PatchUnit[]> change) => new(id, Both, (rig, mild) => rig.Complain(change(rig, mild)));
}
