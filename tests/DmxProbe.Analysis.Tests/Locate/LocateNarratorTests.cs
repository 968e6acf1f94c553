using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Charts;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate;

public class LocateNarratorTests
{
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(0);
    private static readonly ChartMode Wash = EvaluationCharts.Of("wash10").Modes[0];
    private static readonly ChartSet Charts = new(EvaluationCharts.All);

    [Fact]
    public void Another_address_is_named_with_its_error_its_fix_and_the_look_that_confirms_it()
    {
        LocateCase about = Case(Lamp(13));
        LocateAnswer answer = LocateNarrator.Answer(Result(about, LocateClaim.Found, [(13, "has the address of its neighbour 'LX1-2'")]), about);
        Assert.Equal("LX1-6 reads 1.013, not 1.061 as the sheet says: has the address of its neighbour 'LX1-2'.", answer.Sentence);
        Assert.False(answer.AsTheSheetSays);
        Assert.Contains("Set LX1-6 to 061 (menu 061; switches 1:ON 2:off 3:ON 4:ON 5:ON 6:ON 7:off 8:off 9:off); 1.061 is free on the sheet.", answer.Action, StringComparison.Ordinal);
        Assert.Contains("overlaps LX1-2", answer.Action, StringComparison.Ordinal);
        Assert.StartsWith("To confirm: from a dark stage raise only LX1-2 to full (its ", answer.NextStep, StringComparison.Ordinal);
        Assert.Matches(@"[A-Za-z]+ 1\.\d{3}(, [A-Za-z ]+ 1\.\d{3})*\)\. LX1-6", answer.NextStep);
        Assert.Contains("LX1-6 lights up if it reads 1.013, and stays dark if it reads 1.061. LX1-2 lights up in any case: look at LX1-6.", answer.NextStep, StringComparison.Ordinal);
        Assert.Contains(answer.Cautions, caution => caution.Contains("may move or strike", StringComparison.Ordinal));
    }

    [Fact]
    public void A_unit_that_reads_its_sheet_address_needs_no_action()
    {
        LocateCase about = Case(Lamp(61));
        LocateAnswer answer = LocateNarrator.Answer(Result(about, LocateClaim.Found, [(61, "as the sheet says")]), about);
        Assert.Equal("LX1-6 reads 1.061, as the sheet says.", answer.Sentence);
        Assert.True(answer.AsTheSheetSays);
        Assert.Empty(answer.Action);
    }

    [Fact]
    public void A_look_never_raises_a_slot_that_is_not_on_the_sheet_or_may_be_more_than_light()
    {
        // The light reads 1.016: its dimmer would be LX1-2's green, its shutter LX1-2's blue.
        LocateCase about = Case(Lamp(16));
        SplittingLook? look = LookPlanner.Find(about.Question, null, Result(about, LocateClaim.Found, [(16, "")]).ClassMembers);
        foreach (SlotLevel slot in look?.Raise ?? [])
        {
            int role = slot.Slot - 16 + 1;
            Assert.DoesNotContain(Wash.Slots.Where(known => known.Role is not (SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White)), known => known.Slot == role);
        }

        // Far from every unit of the sheet nothing may be raised at all.
        Assert.Null(LookPlanner.Find(about.Question, null, Result(about, LocateClaim.Found, [(300, "")]).ClassMembers));
    }

    [Fact]
    public void Several_candidates_are_listed_with_the_look_that_splits_them()
    {
        LocateCase about = Case(Lamp(13));
        LocateAnswer answer = LocateNarrator.Answer(Result(about, LocateClaim.OneOf, [(13, ""), (1, "")]), about);
        Assert.StartsWith("LX1-6 reads 1.013 or 1.001: one of these 2", answer.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("This look splits them: from a dark stage raise only ", answer.NextStep, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_from_the_sheet_are_escaped()
    {
        LocateCase about = Case(Lamp(13));
        about = about with { Unit = about.Unit with { Unit = "LX\u001b[2J" } };
        Assert.StartsWith("LX\\u001B[2J reads", LocateNarrator.Answer(Result(about, LocateClaim.Found, [(13, "")]), about).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void On_another_universe_it_is_brought_to_its_own_before_any_address()
    {
        LocateAnswer answer = LocateNarrator.Answer(ResultOn(1, 13), OnTwo("", ""));
        Assert.StartsWith("First bring LX1-6 to universe 1 (Art-Net", answer.Action, StringComparison.Ordinal);
        Assert.Contains("plug its line into the output of universe 1, or route universe 1 to the output it is on; a unit that takes the network itself is set to universe 1.", answer.Action, StringComparison.Ordinal);
        Assert.Contains(" Only then set LX1-6 to 061 (menu 061;", answer.Action, StringComparison.Ordinal);
        Assert.Contains(" The address alone would make it read 2.061, on top of OTHER.", answer.Action, StringComparison.Ordinal);
        Assert.Contains(Caution.Unplugging, answer.Cautions);
    }

    [Fact]
    public void With_its_address_right_on_another_universe_the_address_is_left()
    {
        string action = LocateNarrator.Answer(ResultOn(1, 61), OnTwo("", "")).Action;
        Assert.StartsWith("First bring LX1-6 to universe 1", action, StringComparison.Ordinal);
        Assert.Contains("Its address is right: leave it, setting 1.061 again changes nothing.", action, StringComparison.Ordinal);
        Assert.DoesNotContain("switches", action, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("bar", "bar", "Or it is the sheet that is wrong: by it OTHER of its chain is on universe 2 already")]
    [InlineData("bar", "floor", "to the output it is on")]
    public void Neighbours_of_its_chain_on_the_universe_it_hears_speak_against_the_sheet(string own, string other, string expected)
    {
        string action = LocateNarrator.Answer(ResultOn(1, 13), OnTwo(own, other)).Action;
        Assert.Contains(expected, action, StringComparison.Ordinal);
        Assert.Contains("plug its line (chain bar)", action, StringComparison.Ordinal);
        Assert.Equal(own == other, action.Contains("sheet that is wrong", StringComparison.Ordinal));
    }

    [Fact]
    public void A_universe_that_is_not_settled_is_looked_up_before_any_address()
    {
        LocateResult result = ResultOn(1, 13);
        LocateCandidate first = result.Best! with { Hypothesis = new Hypothesis(0, 13, 0) };
        string action = LocateNarrator.Answer(result with { Claim = LocateClaim.Class, Best = first, ClassMembers = [first, .. result.ClassMembers] }, OnTwo("", "")).Action;
        Assert.StartsWith("Which universe it hears is not settled", action, StringComparison.Ordinal);
        Assert.Contains("first bring LX1-6 to universe 1", action, StringComparison.Ordinal);
    }

    [Fact]
    public void Only_places_that_carried_the_same_values_are_said_to_have_done_so()
    {
        LocateCase about = Case(Lamp(13));
        Assert.Contains("1.013 or 1.001, which carried the same values, not 1.061", Sentence(about), StringComparison.Ordinal);

        // The green of LX1-2 moves.
        byte[] levels = new byte[512];
        levels[1] = levels[13] = levels[61] = 255;
        levels[15] = 90;
        about.Question.Histories[0].Record(60, levels);
        Assert.Contains("1.013 or 1.001, which this evidence does not tell apart, not 1.061", Sentence(about), StringComparison.Ordinal);

        static string Sentence(LocateCase about) => LocateNarrator.Answer(Result(about, LocateClaim.Class, [(13, ""), (1, "")]), about).Sentence;
    }

    [Fact]
    public void Units_that_cannot_be_told_apart_are_said_to_have_had_the_same_values_only_where_they_had()
    {
        LocateCase about = Case(Lamp(13));
        Assert.Contains("cannot be told apart yet: their light fits the same places, which carried the same values so far.", Sentence(about), StringComparison.Ordinal);
        byte[] levels = new byte[512];
        levels[1] = levels[13] = levels[61] = 255;
        levels[15] = 90; // the green of LX1-2
        about.Question.Histories[0].Record(60, levels);
        Assert.Contains("their light fits the same places, which this evidence does not tell apart.", Sentence(about), StringComparison.Ordinal);

        static string Sentence(LocateCase about)
        {
            LocateResult result = Result(about, LocateClaim.Class, [(13, ""), (1, "")]);
            RowUnit[] units = [.. new[] { "LX1-6", "LX1-7" }.Select(name => new RowUnit(new UnitInRow(name, 1, 61, 0, about.Question), result, result))];
            RowFinding finding = new(RowFindingKind.Alike, [.. units.Select(unit => unit.Unit.Name)], default, null, -1, 0.9);
            return RowNarrator.Statements(new TogetherResult(units, [finding], 0), [about, about]).Single().Sentence;
        }
    }

    [Theory]
    [InlineData(LocateClaim.NotEnough, "Not enough evidence yet")]
    [InlineData(LocateClaim.NothingExplains, "Nothing that was captured explains this light")]
    public void An_open_answer_has_a_next_step(LocateClaim claim, string begins)
    {
        LocateCase about = Case(Lamp(13));
        LocateAnswer answer = LocateNarrator.Answer(Result(about, claim, [(13, "")]), about);
        Assert.StartsWith(begins, answer.Sentence, StringComparison.Ordinal);
        Assert.NotEmpty(answer.NextStep);
    }

    // The lamp is on universe 1 by the sheet; universe 2 is captured as well, with a unit of the sheet on it.
    private static LocateCase OnTwo(string chain, string otherChain)
    {
        LocateCase about = Case(Lamp(13));
        PatchUnit unit = about.Unit with { Chain = chain };
        PatchUnit other = about.Unit with { Unit = "OTHER", Universe = 2, Address = 65, Chain = otherChain };
        LocateQuestion question = about.Question with { Histories = [about.Question.Histories[0], new SlotHistory(new UniverseId(UniverseProtocol.ArtNet, 1), -1, Start)] };
        return about with
        {
            Unit = unit,
            Question = question,
            Sheet = new PatchSheet([.. about.Sheet.Units.Where(each => each.Unit != unit.Unit), unit, other]),
            SheetUniverses = [1, 2],
        };
    }

    private static LocateResult ResultOn(int history, int address)
    {
        LocateResult result = Result(Case(Lamp(13)), LocateClaim.Found, [(address, "")]);
        LocateCandidate place = result.Best! with { Hypothesis = new Hypothesis(history, address, 0), Universe = new UniverseId(UniverseProtocol.ArtNet, history) };
        return result with { Best = place, ClassMembers = [place], Candidates = [place] };
    }

    private static PatchUnit Lamp(int reads) => new(reads.ToString(CultureInfo.InvariantCulture), "wash10", Wash.Name, 1, 61, "", "", "", [], "", 0);

    private static LocateCase Case(PatchUnit lamp)
    {
        PatchUnit unit = lamp with { Unit = "LX1-6" };
        PatchUnit[] others = [lamp with { Unit = "LX1-1", Address = 1 }, lamp with { Unit = "LX1-2", Address = 13 }];
        SlotHistory history = new(new UniverseId(UniverseProtocol.ArtNet, 0), -1, Start);
        byte[] levels = new byte[512];
        foreach (int address in new[] { 1, 13, 61 })
        {
            levels[address] = 255; // shutters open
        }

        history.Record(0, levels);
        RigRandom random = new(1);
        Timestamp[] times = [.. Enumerable.Range(0, 300).Select(t => Start + Duration.FromSeconds(t / 30.0))];
        LocateQuestion question = new(
            [history],
            new LightTrace(times, [[.. times.Select(_ => random.Unit())]]),
            [Wash],
            [.. others.Select(other => new OtherUnit(other.Unit, 0, other.Address, Wash))],
            []);
        return new LocateCase(question, new PatchSheet([.. others, unit]), Charts, unit, [1]);
    }

    private static LocateResult Result(LocateCase about, LocateClaim claim, (int Address, string Error)[] members)
    {
        LocateCandidate[] candidates =
        [
            .. members.Select(member => new LocateCandidate(
                new Hypothesis(0, member.Address, 0), about.Question.Histories[0].Universe, -1, Wash.Name, 0.9 / members.Length, 100, member.Error)),
        ];
        LocateFit fit = new(0.1, 1, 2.5, 0, 0.001, 1, 0, 100, 0, -5, 8, 8, 285);
        return new LocateResult(claim, false, candidates[0], null, claim == LocateClaim.OneOf ? [candidates[0]] : candidates, 0.999, candidates, fit, 100);
    }
}
