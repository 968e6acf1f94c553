using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate.Together;

/// <summary>Several units of one row at once, on simulated rows with known truth; the rates are in docs/locating.md.</summary>
public class TogetherInferenceTests
{
    private static readonly RigOptions Busy = new() { Rgb = true };

    [Fact]
    public void From_one_unit_on_everything_is_shifted_and_the_mode_in_front_of_it_is_named()
    {
        int named = 0;
        for (long seed = 800; seed < 806; seed++)
        {
            RigRow row = RigRow.Draw(RigRowFault.Shifted, Busy, seed);
            TogetherResult result = TogetherInference.Run(row.Units);
            foreach (RowFinding finding in result.Findings.Where(IsShift))
            {
                Assert.Equal(row.Slots, finding.Shift.Slots);
                Assert.All(finding.Units, unit => Assert.Contains(unit, row.Units.Skip(row.FirstShifted).Select(each => each.Name)));
                named += finding.Kind == RowFindingKind.ShiftedFrom && finding.Culprit == row.Units[row.FirstShifted - 1].Name && finding.CulpritMode == 1 ? 1 : 0;
            }
        }

        Assert.True(named >= 3, $"named {named} times of 6");
    }

    [Theory]
    [InlineData(RigRowFault.None)]
    [InlineData(RigRowFault.OwnErrors)]
    public void Nothing_is_said_of_a_row_without_a_common_cause(RigRowFault fault)
    {
        for (long seed = 810; seed < 814; seed++)
        {
            RigRow row = RigRow.Draw(fault, Busy, seed);
            TogetherResult result = TogetherInference.Run(row.Units);
            Assert.DoesNotContain(result.Findings, IsShift);
            for (int i = 0; i < row.Units.Count; i++)
            {
                RowUnit unit = result.Units.Single(each => each.Unit.Name == row.Units[i].Name);
                Assert.True(!unit.IsClaimed || unit.Result.ClassMembers.Any(member => member.Hypothesis == row.Truths[i]), $"seed {seed}, {unit.Unit.Name}");
            }
        }
    }

    [Fact]
    public void Two_units_that_read_one_address_are_twins_unless_the_sheet_wants_it()
    {
        UnitInRow[] pair = Pair(out LightTrace first, out _);
        UnitInRow twin = pair[1] with { Question = pair[1].Question with { Trace = first } };

        Assert.Contains(TogetherInference.Run([pair[0], twin]).Findings, finding => finding.Kind == RowFindingKind.Twins && finding.Units.Count == 2);
        Assert.DoesNotContain(
            TogetherInference.Run([pair[0], twin with { SharesWith = [pair[0].Name] }]).Findings, finding => finding.Kind == RowFindingKind.Twins);
    }

    [Fact]
    public void Two_units_that_read_each_others_address_are_swapped()
    {
        UnitInRow[] pair = Pair(out LightTrace first, out LightTrace second);
        TogetherResult result = TogetherInference.Run(
            [pair[0] with { Question = pair[0].Question with { Trace = second } }, pair[1] with { Question = pair[1].Question with { Trace = first } }]);
        Assert.Contains(result.Findings, finding => finding.Kind == RowFindingKind.Swapped && finding.Units.Count == 2);
    }

    [Fact]
    public void Regions_of_one_uncertain_clock_share_its_shift()
    {
        UnitInRow[] pair = Pair(out _, out _);
        UnitInRow[] moved = [.. pair.Select(unit => unit with { Question = unit.Question with { Trace = Uncertain(unit.Question.Trace!, 7.3) } })];
        TogetherResult result = TogetherInference.Run(moved);
        Assert.InRange(result.ClockShiftSeconds, -7.8, -6.8);
        Assert.All(result.Units, unit => Assert.True(unit.IsClaimed, unit.Unit.Name));
        Assert.All(result.Units, unit => Assert.Equal(result.ClockShiftSeconds, unit.Result.ClockShiftSeconds));
    }

    [Fact]
    public void A_single_unit_is_what_it_is_alone()
    {
        UnitInRow unit = Pair(out _, out _)[0];
        TogetherResult result = TogetherInference.Run([unit]);
        Assert.Empty(result.Findings);
        Assert.Equal(result.Units[0].Alone.Best!.Hypothesis, result.Units[0].Result.Best!.Hypothesis);
    }

    private static bool IsShift(RowFinding finding) =>
        finding.Kind is RowFindingKind.ShiftedFrom or RowFindingKind.ShiftedAll or RowFindingKind.OtherUniverse;

    /// <summary>Two units of a row without a fault whose lights are told apart.</summary>
    private static UnitInRow[] Pair(out LightTrace first, out LightTrace second)
    {
        for (long seed = 820; ; seed++)
        {
            RigRow row = RigRow.Draw(RigRowFault.None, Busy, seed);
            UnitInRow[] found = [.. TogetherInference.Run(row.Units).Units.Where(unit => unit.Alone.Claim == LocateClaim.Found && unit.Alone.IsStrict).Select(unit => unit.Unit).Take(2)];
            if (found.Length == 2)
            {
                (first, second) = (found[0].Question.Trace!, found[1].Question.Trace!);
                return found;
            }
        }
    }

    private static LightTrace Uncertain(LightTrace trace, double off)
    {
        LightTrace moved = trace.Shifted(Duration.FromSeconds(off));
        return new LightTrace([.. moved.Times], [.. Enumerable.Range(0, moved.ChannelCount).Select(channel => moved.Channel(channel).ToArray())]) { Clock = new TraceClock(10) };
    }
}
