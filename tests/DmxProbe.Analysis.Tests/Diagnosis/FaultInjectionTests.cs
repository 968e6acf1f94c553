using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Diagnosis;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>Every cause that the rig simulator can put in is named; rigs that are healthy are left alone. The whole table: diagnose-table.</summary>
public class FaultInjectionTests
{
    private const ulong Seed = 4_711;

    /// <summary>The causes that can be put in.</summary>
    public static TheoryData<string> Causes => [.. FaultInjections.All.Select(each => each.Id).Distinct(StringComparer.Ordinal)];

    /// <summary>The shapes of healthy rigs.</summary>
    public static TheoryData<string> Shapes => [.. HealthyRigs.Shapes.Select(shape => shape.Name)];

    [Theory]
    [MemberData(nameof(Causes))]
    public void A_cause_put_into_a_healthy_rig_is_among_the_first_three(string id)
    {
        foreach (FaultInjection injection in FaultInjections.All.Where(each => each.Id == id))
        {
            foreach (UniverseProtocol protocol in injection.On)
            {
                FaultRig rig = new(Seed, protocol == UniverseProtocol.Line ? UniverseProtocol.Sacn : protocol);
                injection.Apply(rig, false);
                string[] order = [.. Diagnoser.Run(rig.Case()).Ranked.Select(report => report.Cause.Id).Distinct(StringComparer.Ordinal).Take(3)];
                Assert.True(order.Contains(id), $"{protocol}: {string.Join(", ", order)}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Shapes))]
    public void A_healthy_rig_has_no_finding_of_severity_fault(string name)
    {
        FaultRig rig = HealthyRigs.Shapes.First(shape => shape.Name == name).Draw(Seed);
        Assert.Empty(Diagnoser.Run(rig.Case()).Ranked.Where(report => report.Severity == Severity.Fault).Select(report => report.Text));
    }

    // Every cause is exactly one of: reported, excluded, open. The same case gives the same answer.
    [Theory]
    [MemberData(nameof(Shapes))]
    public void Every_cause_has_one_state_and_the_answer_is_the_same_twice(string name)
    {
        DiagnosisCase it = HealthyRigs.Shapes.First(shape => shape.Name == name).Draw(Seed).Case();
        DiagnosisResult once = Diagnoser.Run(it), again = Diagnoser.Run(it);
        string[] states = [.. once.Ranked.Select(report => report.Cause.Id).Distinct(), .. once.Excluded.Select(report => report.Cause.Id), .. once.CannotTell.Select(report => report.Cause.Id)];
        Assert.Equal(states.Length, states.Distinct(StringComparer.Ordinal).Count());
        Assert.Subset(states.ToHashSet(StringComparer.Ordinal), AllCauses.List.Where(cause => cause.Card.Group != CauseGroup.Capture).Select(cause => cause.Id).ToHashSet(StringComparer.Ordinal));
        Assert.Equal(once.Ranked.Select(report => report.Text), again.Ranked.Select(report => report.Text));
    }

    // What only the light tells shows on few rigs: another is drawn where it does not, and not for ever.
    [Theory]
    [InlineData("off-by-one")]
    [InlineData("wrong-mode")]
    [InlineData("own-programme")]
    public void A_cause_that_only_the_light_tells_comes_first(string id)
    {
        FaultInjection injection = LightInjections.List.First(each => each.Id == id);
        FaultRig? rig = Enumerable.Range(0, 40).Select(draw => TryPut(injection, new FaultRig(Seed + (ulong)(draw * 17), UniverseProtocol.Sacn))).FirstOrDefault(put => put is not null);
        Assert.NotNull(rig);
        string first = Diagnoser.Run(rig.Case()).Ranked[0].Cause.Id;
        Assert.Contains(first, CauseClass.All.Where(known => !known.OnlyToOnePlace && known.Causes.Contains(id)).SelectMany(known => known.Causes).Concat(LightInjections.SamePlace(rig)).Append(id));
    }

    // All heads of these shows move alike: a batten that reads pan and tilt of one shines like one at any other.
    [Fact]
    public void A_rig_in_which_another_place_carries_the_light_does_not_count()
    {
        FaultRig rig = new(Seed, UniverseProtocol.Sacn);
        PatchUnit wash = rig.TargetUnits.First(unit => unit.Mode == "6 slot"), batten = wash with { Type = "batten", Mode = "4 slot" };
        rig.Change(wash, batten);
        ChartMode mode = rig.Charts.Find(batten.Type, batten.Mode)!;
        rig.Light = new LightFault(batten, rig.Target, rig.TargetUnits.First(unit => unit.Type == "head").Address, mode);
        Assert.Equal("another place carries the same light", Assert.Throws<InvalidOperationException>(rig.See).Message);
    }

    // All universes 1 (mild), 16 or 256 off.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Universes_that_are_all_off_alike_are_a_numbering_and_not_the_sheet_of_another_show(bool mild)
    {
        FaultRig rig = new(Seed, UniverseProtocol.Sacn);
        FaultInjections.All.First(each => each.Id == "universe-numbers-shifted").Apply(rig, mild);
        DiagnosisResult result = Diagnoser.Run(rig.Case());
        Assert.Equal("universe-numbers-shifted", result.First!.Cause.Id);
        Assert.DoesNotContain("sheet-is-old", result.Ranked.Select(report => report.Cause.Id));
    }

    // A unit that reads what the sheet says, and is complained of all the same.
    [Fact]
    public void A_unit_that_reads_what_the_sheet_says_is_not_called_wrong_by_its_light()
    {
        FaultRig? rig = Enumerable.Range(0, 40).Select(draw => TryPut(LightInjections.AsTheSheetSays, new FaultRig(Seed + (ulong)(draw * 17), UniverseProtocol.Sacn))).FirstOrDefault(put => put is not null);
        Assert.NotNull(rig);
        Assert.True(rig.Located!.Answer.AsTheSheetSays, rig.Located.Answer.Sentence);
        Assert.DoesNotContain(Diagnoser.Run(rig.Case()).Ranked, report => report.Cause is LocateCause);
    }

    private static FaultRig? TryPut(FaultInjection injection, FaultRig rig)
    {
        try
        {
            injection.Apply(rig, false);
            return rig;
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    // What one cause brings about stands behind it: two programs with one identity lose packets of each other.
    [Fact]
    public void What_follows_from_a_cause_stands_behind_it()
    {
        FaultRig rig = new(Seed, UniverseProtocol.Sacn);
        FaultInjections.All.First(each => each.Id == "shared-identity").Apply(rig, false);
        DiagnosisResult result = Diagnoser.Run(rig.Case());
        Assert.Equal("shared-identity", result.Ranked[0].Cause.Id);
        Assert.Equal("shared-identity", result.Ranked.First(report => report.Cause.Id is "packet-loss" or "packets-out-of-order").FollowsFrom);
    }

    // The complaint decides between two faults that are both there.
    [Theory]
    [InlineData(1, "strobe-left-on")]
    [InlineData(2, "universe-not-sent")]
    public void Of_two_faults_the_one_that_touches_the_bad_units_comes_first(int complainOf, string id)
    {
        FaultRig rig = new(Seed, UniverseProtocol.Sacn);
        FaultInjections.All.First(each => each.Id == "strobe-left-on").Apply(rig, false);
        rig.Target = 2;
        FaultInjections.All.First(each => each.Id == "universe-not-sent").Apply(rig, false);
        HashSet<string> on = [.. rig.Units.Where(unit => unit.Universe == complainOf).Select(unit => unit.Unit)];
        rig.Bad.RemoveAll(name => !on.Contains(name));
        DiagnosisResult result = Diagnoser.Run(rig.Case());
        Assert.Equal(id, result.First?.Cause.Id);
        Assert.True(result.First?.TouchesBad);
        string other = id == "strobe-left-on" ? "universe-not-sent" : "strobe-left-on";
        Assert.All(result.Ranked.Where(report => report.Cause.Id == other), report => Assert.False(report.TouchesBad));

        // What a unit is told is looked at for bad units only, so a strobe elsewhere is not told at all.
        Assert.Equal(other == "universe-not-sent", result.Ranked.Any(report => report.Cause.Id == other));
    }
}
