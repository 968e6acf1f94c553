using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Diagnosis;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>Bad units that share what they are told, one function, or the moment at which it began.</summary>
public class UnitLabelsTests
{
    private const ulong Seed = 4_711;
    private const long Second = 1_000_000_000;

    [Fact]
    public void Units_that_are_all_told_to_strobe_are_told_together()
    {
        FaultRig rig = Rig(out PatchUnit[] heads);
        Tell(rig, heads, SlotRole.Shutter, 120, from: 0);
        UnitGroup best = Groups(rig)[0];
        Assert.Equal(UnitGroupKind.Told, best.Kind);
        Assert.Equal("all told to strobe", best.Text);
        Assert.Equal(heads.Select(unit => unit.Unit).Order(StringComparer.Ordinal), best.Units.Order(StringComparer.Ordinal));
        Assert.Equal(1, best.Gain, 6);
        Assert.Contains("shutter", best.Check!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Units_that_are_told_it_at_one_moment_are_told_with_that_moment()
    {
        FaultRig rig = Rig(out PatchUnit[] heads);
        Tell(rig, heads, SlotRole.Shutter, 120, from: 12 * Second);
        DiagnosisCase it = rig.Case();
        UnitGroup moment = Assert.Single(UnitGrouping.Of(it), group => group.Kind == UnitGroupKind.Moment);
        Assert.StartsWith("all those that were told to strobe", moment.Text, StringComparison.Ordinal);
        double at = (moment.At!.Value - it.Survey.First!.Value).TotalSeconds;
        Assert.InRange(at, 11.5, 13.1);
    }

    // Nothing strobes, but equal units have their speed slots at one odd value: the function is what they share.
    [Fact]
    public void Units_whose_speed_slots_stand_alike_are_told_by_that_function()
    {
        FaultRig rig = Rig(out PatchUnit[] all, SlotRole.Speed);
        PatchUnit[] slow = [.. all.Where((_, index) => index % 2 == 0)];
        rig.Bad.Clear();
        Tell(rig, slow, SlotRole.Speed, 220, from: 0);
        UnitGroup function = Groups(rig).First(group => group.Kind == UnitGroupKind.Function);
        Assert.Equal("all whose speed slot stands at 220", function.Text);
        Assert.Equal(slow.Length, function.Units.Count);
    }

    // The sender of one universe goes: its units stop within the same moment, and the wire says why.
    [Fact]
    public void Units_that_stopped_together_are_told_with_what_the_wire_did_then()
    {
        FaultRig rig = new(Seed, UniverseProtocol.Sacn);
        FaultSender other = new("spare", Host.At("spare", "10.0.0.60"), SacnPackets.Cid("6b1d2f4e-0c51-4f7a-9d21-3a5e84c7b999")) { Polls = false };
        FaultStream stream = rig.Stream;
        rig.Main.Streams.Remove(stream);
        stream.Plan = stream.Plan with { Stop = 12 * Second };
        other.Streams.Add(stream);
        rig.Others.Add(other);
        rig.Complain(rig.TargetUnits);
        UnitGroup moment = Groups(rig).First(group => group.Kind == UnitGroupKind.Moment);
        Assert.Contains("stopped moving", moment.Text, StringComparison.Ordinal);
        Assert.Contains(moment.Then, then => then.Text.Contains("stops sending sACN 1", StringComparison.Ordinal) || then.Text.Contains("ends its stream of sACN 1", StringComparison.Ordinal));
        Assert.Contains("what was done then", moment.Check!.Text, StringComparison.Ordinal);
    }

    // The same case, told twice, gives the same groups: nothing depends on how often it was looked at.
    [Fact]
    public void Groups_are_the_same_twice()
    {
        FaultRig rig = Rig(out PatchUnit[] heads);
        Tell(rig, heads, SlotRole.Shutter, 120, from: 12 * Second);
        DiagnosisCase it = rig.Case();
        Assert.Equal(UnitGrouping.Of(it).Select(group => group.Text), UnitGrouping.Of(it).Select(group => group.Text));
    }

    private static FaultRig Rig(out PatchUnit[] units, SlotRole role = SlotRole.Shutter)
    {
        FaultRig rig = new(Seed, UniverseProtocol.Sacn);
        units = [.. rig.Units.Where(unit => rig.Charts.Find(unit.Type, unit.Mode)!.Slots.Any(slot => slot.Role == role))];
        if (role == SlotRole.Shutter)
        {
            // Not all of them: those of the first universe and of the second.
            units = [.. units.Where(unit => unit.Universe < 3)];
        }

        return rig;
    }

    private static void Tell(FaultRig rig, PatchUnit[] units, SlotRole role, byte value, long from)
    {
        foreach (PatchUnit unit in units)
        {
            int at = rig.Charts.Find(unit.Type, unit.Mode)!.Slots.First(slot => slot.Role == role).Slot - 1;
            rig.Show.Otherwise[unit] = (time, slots) => slots[at] = time >= from ? value : slots[at];
        }

        rig.Complain(units);
    }

    private static IReadOnlyList<UnitGroup> Groups(FaultRig rig) => UnitGrouping.Of(rig.Case());
}
