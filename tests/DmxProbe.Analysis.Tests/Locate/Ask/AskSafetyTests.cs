using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Testing.Charts;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate.Ask;

/// <summary>Design, section 10: what a question may never raise.</summary>
public class AskSafetyTests
{
    private static readonly ChartMode Wash = EvaluationCharts.Of("wash10").Modes[0];
    private static readonly ChartMode Head = EvaluationCharts.Of("head16").Modes[0];
    private static readonly ChartMode Dimmer = EvaluationCharts.Of("dimmer").Modes[0];

    [Theory]
    [InlineData(0)]
    [InlineData(8)]
    public void On_a_whole_rig_no_question_raises_anything_but_intensity_and_colour_of_the_sheet(int faders)
    {
        for (int seed = 0; seed < 6; seed++)
        {
            RigRandom random = new((ulong)(90 + seed));
            RigPlan plan = new(random, dense: false);
            RigUnit[] sheet = [.. plan.Units.Where(unit => unit.OnSheet)];
            RigUnit unit = random.Pick(sheet);
            AskSpace space = new([.. Enumerable.Range(1, 3).Select(number => new UniverseId(UniverseProtocol.Sacn, number))], [unit.Mode]);
            AskRig rig = new(space, unit.Name, [.. sheet.Select(each => new AskUnit(each.Name, each.Universe, each.Address, each.Mode))], [1, 2, 3], [new byte[512], new byte[512], new byte[512]]);
            AskSafety safety = new(rig);
            AskPosterior posterior = new(space, AskPrior.Of(space, [(new AskPlace(unit.Universe, unit.Address, 0), 1), (new AskPlace(unit.Universe, Math.Min(unit.Address + 1, 512), 0), 1)]));
            AskSession session = new(posterior, safety, faders > 0 ? new FaderPlanner(rig, faders) : new RangePlanner(rig));
            while (session.Next() is AskQuestion question && session.Answered < 40)
            {
                Assert.All(question.Raised, slot =>
                {
                    RigUnit[] of = [.. sheet.Where(each => each.Universe == slot.Universe && slot.Slot >= each.Address && slot.Slot < each.Address + each.Mode.Footprint)];
                    Assert.NotEmpty(of);
                    Assert.All(of, each => Assert.Contains(
                        each.Mode.Find(slot.Slot - each.Address + 1)!.Role,
                        new[] { SlotRole.Intensity, SlotRole.Red, SlotRole.Green, SlotRole.Blue, SlotRole.White, SlotRole.Amber }));
                });
                Assert.InRange(Endangered(posterior, question), 0, AskSafety.MostRiskOfSingleLook + 1e-6);
                session.Answer(question, random.Chance(0.3) ? Seen.Lit : Seen.Dark, "", null);
            }
        }
    }

    /// <summary>Probability of all places at which a raised slot is movement, strobe, programme, control or unknown: worked out anew.</summary>
    private static double Endangered(AskPosterior posterior, AskQuestion question)
    {
        double risk = 0;
        for (int i = 0; i < posterior.Space.Count; i++)
        {
            AskPlace place = posterior.Space.PlaceAt(i);
            ChartMode mode = posterior.Space.Modes[place.Mode];
            bool hurts = question.Raised.Any(slot =>
            {
                int offset = slot.Slot - place.Address + 1;
                if (slot.Universe != place.Universe || offset < 1 || offset > mode.Footprint)
                {
                    return false;
                }

                ChartSlot? chart = mode.Find(offset);
                RangeEffect? effect = chart?.Ranges.FirstOrDefault(range => slot.Level >= range.From && slot.Level <= range.To)?.Effect;
                return chart is null || chart.Role is SlotRole.Position or SlotRole.Hazard or SlotRole.Unknown ||
                    effect is RangeEffect.Flashing or RangeEffect.ProgrammeRuns or RangeEffect.ControlAction;
            });
            risk += hurts ? posterior.Probability[i] : 0;
        }

        return risk;
    }

    [Fact]
    public void Unpatched_slots_count_as_unknown_until_somebody_says_otherwise()
    {
        AskRig rig = Rig(new AskUnit("A", 0, 1, Dimmer));
        AskSafety safety = new(rig);
        safety.Update(new double[rig.Space.Count + 1]);
        Assert.True(safety.MayRaise(0, 1, 255));
        Assert.False(safety.MayRaise(0, 2, 255));
        safety.Clear(0);
        Assert.True(safety.MayRaise(0, 2, 255));
    }

    [Fact]
    public void A_unit_without_a_chart_closes_everything_up_to_the_next_one_even_on_a_cleared_universe()
    {
        AskRig rig = Rig(new AskUnit("hoist", 0, 10, null), new AskUnit("A", 0, 20, Dimmer));
        AskSafety safety = new(rig);
        safety.Update(new double[rig.Space.Count + 1]);
        safety.Clear(0);
        Assert.All(Enumerable.Range(10, 10), slot => Assert.False(safety.MayRaise(0, slot, 255)));
        Assert.True(safety.MayRaise(0, 20, 255));
        Assert.True(safety.MayRaise(0, 9, 255));
    }

    [Fact]
    public void A_page_of_faders_with_a_machine_on_it_is_skipped_whole()
    {
        AskRig rig = Rig(new AskUnit("hoist", 0, 12, null), new AskUnit("A", 0, 13, Dimmer), new AskUnit("B", 0, 17, Dimmer));
        AskSafety safety = new(rig);
        AskPosterior posterior = new(rig.Space, AskPrior.Of(rig.Space, [(new AskPlace(0, 13, 0), 1), (new AskPlace(0, 17, 0), 1)]));
        AskSession session = new(posterior, safety, new FaderPlanner(rig, 8));
        int asked = 0;
        while (session.Next() is AskQuestion question && asked++ < 20)
        {
            Assert.DoesNotContain(question.Steps, step => step.Page == 2);
            session.Answer(question, Seen.Dark, "", null);
        }

        Assert.True(asked > 0);
    }

    [Fact]
    public void A_slot_that_would_move_a_head_at_a_live_place_is_not_raised()
    {
        // Head and dimmers: at address 1 the head's pan would be the dimmer of A.
        AskSpace space = new([new UniverseId(UniverseProtocol.Sacn, 1)], [Head]);
        AskRig rig = new(space, "head", [new AskUnit("A", 0, 1, Dimmer), new AskUnit("B", 0, 8, Dimmer)], [1], [new byte[512]]);
        AskSafety safety = new(rig);
        Assert.False(safety.OnlyFlashes);
        double[] probability = new double[space.Count + 1];
        probability[space.IndexOf(new AskPlace(0, 1, 0))] = 0.9;
        safety.Update(probability);
        int pan = Head.Slots.First(slot => slot.Role == SlotRole.Position).Slot;
        int dimmer = Head.Slots.First(slot => slot.Role == SlotRole.Intensity).Slot;
        Assert.Equal(1, pan);
        Assert.False(safety.MayRaise(0, 1, 255));
        Assert.Equal(8, dimmer);
        Assert.True(safety.MayRaise(0, 8, 255));
    }

    [Fact]
    public void A_wash_with_a_reset_is_more_than_a_flash() => Assert.False(new AskSafety(new AskRig(
        new AskSpace([new UniverseId(UniverseProtocol.Sacn, 1)], [Wash]), "w", [], [1], [new byte[512]])).OnlyFlashes);

    [Fact]
    public void A_head_is_looked_at_as_it_stands_before_anything_is_raised_and_no_later_look_brings_a_live_place_into_danger()
    {
        // Two heads; the capture ends with both lit. The unit asked about reads the sheet's place or one of its neighbours.
        int asked = 0;
        for (int seed = 0; seed < 8; seed++)
        {
            (AskRig rig, AskSafety safety, SlotHistory history) = Heads();
            AskSpace space = rig.Space;
            AskPosterior posterior = new(space, AskPrior.Of(space, [.. new[] { 19, 20, 21, 22, 25 }.Select(address => (new AskPlace(0, address, 0), 1.0))]));
            AskSession session = new(posterior, safety, new RangesAndLooks(rig, new RangePlanner(rig), new ExistingLookPlanner(rig, [history], safety)));
            RigRandom random = new((ulong)(500 + seed));
            IReadOnlyList<byte[]> now = rig.Held;
            while (session.Next() is AskQuestion question && session.Answered < 30)
            {
                Assert.True(session.Answered > 0 || question.Look is not null, "the first question changes nothing");
                LitScan scan = new(space, new UnitDangers(space));
                scan.Load(question.Levels, now, posterior.Span);
                Assert.InRange(scan.Risk, 0, AskSafety.MostRisk + 1e-6);
                now = question.Levels;
                asked++;
                session.Answer(question, random.Chance(0.5) ? Seen.Lit : Seen.Dark, "", null);
            }
        }

        Assert.True(asked > 16);
    }

    [Fact]
    public void After_answers_of_an_earlier_run_the_stage_is_taken_to_be_dark_and_the_look_of_the_heads_does_not_come_back()
    {
        (AskRig rig, AskSafety safety, SlotHistory history) = Heads();
        AskSpace space = rig.Space;
        AskPosterior posterior = new(space, AskPrior.Of(space, [(new AskPlace(0, 21, 0), 1), (new AskPlace(0, 28, 0), 1)]));
        posterior.Add(LookEvidence.OfLevels(space, DarkStage.Of(rig, safety), Seen.Dark, "", null));
        AskQuestion? question = new AskSession(posterior, safety, new RangesAndLooks(rig, new RangePlanner(rig), new ExistingLookPlanner(rig, [history], safety))).Next();

        // 1.028 is a dimmer by the sheet, and pan of the unit if it reads 1.028.
        Assert.True(question is null || (question.Look is null && question.Raised.All(slot => slot.Slot != 28)));
    }

    [Fact]
    public void Where_no_safe_question_is_left_it_says_which_slots_would_tell_and_why_they_are_not_raised()
    {
        (AskRig rig, AskSafety safety, _) = Heads();
        AskPosterior posterior = new(rig.Space, AskPrior.Of(rig.Space, [(new AskPlace(0, 21, 0), 3), (new AskPlace(0, 28, 0), 1)]));
        safety.Update(posterior.Span);
        string words = NotRaised.Words(rig, posterior, safety);
        Assert.StartsWith("Likeliest is 1.021 (", words, StringComparison.Ordinal);
        Assert.Contains("1.028 would be its own Pan if it reads 1.028 (", words, StringComparison.Ordinal);
    }

    private static (AskRig Rig, AskSafety Safety, SlotHistory History) Heads()
    {
        byte[] levels = new byte[SlotHistory.SlotCount];
        foreach (int address in new[] { 1, 21 })
        {
            (levels[address - 1], levels[address + 1], levels[address + 5], levels[address + 6]) = (127, 90, 255, 255);
            (levels[address + 8], levels[address + 10]) = (255, 200);
        }

        UniverseId universe = new(UniverseProtocol.Sacn, 1);
        SlotHistory history = new(universe, -1, Protocols.Records.Timestamp.FromUnixNanoseconds(1_773_500_000_000_000_000));
        for (int sample = 0; sample < 60; sample++)
        {
            history.Record(sample, levels);
        }

        AskRig rig = new(new AskSpace([universe], [Head]), "head 2", [new AskUnit("head 1", 0, 1, Head), new AskUnit("head 2", 0, 21, Head)], [1], [levels]);
        return (rig, new AskSafety(rig), history);
    }

    private static AskRig Rig(params AskUnit[] units) =>
        new(new AskSpace([new UniverseId(UniverseProtocol.Sacn, 1)], [Dimmer]), "X", units, [1], [new byte[SlotHistory.SlotCount]]);
}
