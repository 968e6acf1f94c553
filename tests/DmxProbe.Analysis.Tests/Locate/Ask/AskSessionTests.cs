using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Light;
using DmxProbe.Testing.Charts;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate.Ask;

/// <summary>Guided questions against what is known about searching with answers that may be lies.</summary>
public class AskSessionTests
{
    // Shannon (1948): a yes or no that is wrong with chance e carries at most 1 - H(e) bit.
    private static double Capacity(double error) => 1 + (error * Math.Log2(error)) + ((1 - error) * Math.Log2(1 - error));

    [Fact]
    public void The_mean_of_looks_lies_between_the_bound_of_Shannon_and_a_third_above_it()
    {
        (AskRig rig, _) = AskTrial.Open(AskTrial.FourModes);
        double[] prior = AskPrior.Of(rig.Space, []);
        double looks = 0;
        int wrong = 0;
        const int trials = 30;
        for (int seed = 0; seed < trials; seed++)
        {
            RigRandom random = new((ulong)(700 + seed));
            (AskRig own, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
            AskTrial trial = AskTrial.Run(prior, safety, new RangePlanner(own), own.Space, AskTrial.Anywhere(own.Space, random), 0.05, random);
            looks += trial.Looks / (double)trials;
            wrong += trial.IsWrong ? 1 : 0;
        }

        double least = Math.Log2(rig.Space.Count) / Capacity(0.05);
        Assert.InRange(looks, least, 1.45 * least);
        Assert.InRange(wrong, 0, 1);
    }

    [Fact]
    public void Without_errors_no_place_is_claimed_before_its_group_test_bound()
    {
        // Finding one of N by yes or no takes at least log2 N tests (information-theoretic bound of group testing).
        (AskRig rig, AskSafety safety) = AskTrial.Open([AskTrial.FourModes[0]]);
        AskTrial trial = AskTrial.Run(AskPrior.Of(rig.Space, []), safety, new RangePlanner(rig), rig.Space, new AskPlace(1, 300, 0), 0, new RigRandom(1));
        Assert.True(trial.IsRight);
        Assert.Equal(AskEnd.Confirmed, trial.End);
        Assert.InRange(trial.Looks, (int)Math.Ceiling(Math.Log2(rig.Space.Count)), 25);
    }

    [Fact]
    public void One_lie_anywhere_is_survived_and_the_worst_case_keeps_to_the_volume_bound()
    {
        // Renyi-Ulam game with one lie (Berlekamp 1968, volume bound): q questions tell N apart only if N (q + 1) <= 2^q.
        (AskRig rig, _) = AskTrial.Open([AskTrial.FourModes[0]]);
        int bound = Enumerable.Range(1, 40).First(q => rig.Space.Count * (q + 1.0) <= Math.Pow(2, q));
        int most = 0;
        for (int lie = 0; lie < 16; lie++)
        {
            (AskRig own, AskSafety safety) = AskTrial.Open([AskTrial.FourModes[0]]);
            AskPosterior posterior = new(own.Space, AskPrior.Of(own.Space, []));
            AskSession session = new(posterior, safety, new RangePlanner(own));
            AskPlace truth = new(2, 77, 0);
            while (session.Next() is AskQuestion question)
            {
                LightOutput light = own.Space.Light(truth.Address, truth.Mode, question.Levels[truth.Universe]);
                session.Answer(question, light.Luminance > 0.5 != (session.Answered == lie) ? Seen.Lit : Seen.Dark, "", null);
            }

            Assert.Equal(AskEnd.Confirmed, session.End);
            Assert.Equal(own.Space.IndexOf(truth), posterior.Best);
            most = Math.Max(most, session.Answered);
        }

        Assert.Equal(15, bound);
        Assert.InRange(most, bound, 40);
    }

    [Fact]
    public void Pages_of_faders_find_the_light_and_what_is_up_stays_up()
    {
        (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
        AskPlace truth = new(0, 61, 2);
        AskPosterior posterior = new(rig.Space, AskPrior.Of(rig.Space, [(new AskPlace(0, 61, 0), 1), (truth, 1), (new AskPlace(0, 60, 2), 1), (new AskPlace(1, 61, 2), 1)]));
        AskSession session = new(posterior, safety, new FaderPlanner(rig, 8));
        HashSet<(int, int)> up = [];
        while (session.Next() is AskQuestion question)
        {
            Assert.NotEmpty(question.Steps);
            foreach (FaderStep step in question.Steps)
            {
                up.RemoveWhere(slot => slot.Item1 == step.Universe && slot.Item2 >= step.First && slot.Item2 < step.First + 8);
                up.UnionWith(step.Up.Select(slot => (step.Universe, slot)));
                Assert.All(step.Up, slot => Assert.InRange(slot, step.First, step.First + 7));
            }

            Assert.Equal(up.Order(), question.Raised.Select(slot => (slot.Universe, slot.Slot)).Order());
            LightOutput light = rig.Space.Light(truth.Address, truth.Mode, question.Levels[truth.Universe]);
            session.Answer(question, light.Luminance > 0.03 ? Seen.Lit : Seen.Dark, "", null);
        }

        Assert.Equal(AskEnd.Confirmed, session.End);
        Assert.Equal(rig.Space.IndexOf(truth), posterior.Best);
    }

    [Fact]
    public void An_answer_taken_back_leaves_everything_as_it_was()
    {
        (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
        AskPosterior posterior = new(rig.Space, AskPrior.Of(rig.Space, []));
        AskSession session = new(posterior, safety, new RangePlanner(rig));
        AskQuestion first = session.Next()!;
        session.Answer(first, Seen.Lit, "a", null);
        double[] after = [.. posterior.Probability];
        session.Answer(session.Next()!, Seen.Dark, "b", null);
        Assert.True(session.TakeBack());
        for (int i = 0; i < after.Length; i++)
        {
            Assert.Equal(after[i], posterior.Probability[i], 9);
        }

        Assert.True(session.TakeBack());
        Assert.False(session.TakeBack());
        Assert.Empty(posterior.Evidence);
    }

    [Fact]
    public void A_person_who_cannot_tell_is_not_asked_for_ever()
    {
        (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
        AskSession session = new(new AskPosterior(rig.Space, AskPrior.Of(rig.Space, [])), safety, new RangePlanner(rig));
        while (session.Next() is AskQuestion question)
        {
            session.Answer(question, Seen.Unsure, "", null);
        }

        Assert.Equal(AskEnd.CannotTell, session.End);
        Assert.Equal(5, session.Answered);
    }

    [Fact]
    public void A_confirming_look_that_keeps_disagreeing_ends_without_a_claim()
    {
        // The light reads nothing of this: a trace may still speak for one place by 60 nats.
        (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
        AskPosterior posterior = new(rig.Space, AskPrior.Of(rig.Space, []));
        double[] nats = new double[rig.Space.Count + 1];
        nats[rig.Space.IndexOf(new AskPlace(1, 16, 1))] = 60;
        posterior.Add(AskEvidence.OfNats(AskEvidenceKind.Trace, "t", null, nats));
        AskSession session = new(posterior, safety, new RangePlanner(rig));
        while (session.Next() is AskQuestion question)
        {
            session.Answer(question, Seen.Dark, "", null);
        }

        Assert.Equal(AskEnd.Contradicted, session.End);
        Assert.Equal(3, session.Answered);
    }

    [Fact]
    public void With_human_errors_as_prior_the_mean_of_looks_lies_between_the_bound_of_Shannon_and_two_fifths_above_it()
    {
        double looks = 0;
        double least = 0;
        int wrong = 0;
        const int trials = 25;
        for (int seed = 0; seed < trials; seed++)
        {
            RigRandom random = new((ulong)(1300 + seed));
            (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
            (AskPlace truth, double[] prior) = AskTrial.Erring(rig.Space, random);
            AskTrial trial = AskTrial.Run(prior, safety, new RangePlanner(rig), rig.Space, truth, 0.05, random);
            looks += trial.Looks / (double)trials;
            least += trial.PriorBits / Capacity(0.05) / trials;
            wrong += trial.IsWrong ? 1 : 0;
        }

        Assert.InRange(looks, least, 1.4 * least);
        Assert.InRange(wrong, 0, 1);
    }

    [Fact]
    public void Places_that_share_a_slot_are_told_apart_by_leaving_it_out()
    {
        // A dimmer at 1.061 or red, green, blue from there: with slot 61 up both are lit, with 62 up and 61 down only one is.
        (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
        AskPosterior posterior = new(rig.Space, Only(rig.Space, new AskPlace(0, 61, 0), new AskPlace(0, 61, 1)));
        AskQuestion question = new AskSession(posterior, safety, new RangePlanner(rig)).Next()!;
        Assert.DoesNotContain(question.Raised, slot => slot is { Universe: 0, Slot: 61 });
        Assert.Contains(question.Raised, slot => slot is { Universe: 0, Slot: 62 or 63 });
        Assert.InRange(question.Bits, 0.5, 1);
    }

    [Fact]
    public void A_look_is_never_asked_for_three_times_running_while_another_question_tells_something()
    {
        for (int seed = 0; seed < 10; seed++)
        {
            RigRandom random = new((ulong)(1400 + seed));
            (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
            (AskPlace truth, double[] prior) = AskTrial.Erring(rig.Space, random);
            AskSession session = new(new AskPosterior(rig.Space, prior), safety, new RangePlanner(rig));
            List<AskQuestion> asked = [];
            while (session.Next() is AskQuestion question)
            {
                bool claims = session.Posterior.Probability[session.Posterior.Best] >= AskStanding.Claim;
                Assert.False(!claims && question.Confirms is not null && asked.Count > 1 && asked.TakeLast(2).All(before => before.Raised.SequenceEqual(question.Raised)));
                asked.Add(question);
                LightOutput light = rig.Space.Light(truth.Address, truth.Mode, question.Levels[truth.Universe]);
                session.Answer(question, light.Luminance > 0.03 != random.Chance(0.1) ? Seen.Lit : Seen.Dark, "", null);
            }

            Assert.NotNull(asked[^1].Confirms);
        }
    }

    [Fact]
    public void Levels_loaded_at_once_endanger_and_light_the_same_as_slot_after_slot()
    {
        AskSpace space = new([new UniverseId(UniverseProtocol.Sacn, 1)], [EvaluationCharts.Of("head16").Modes[0], EvaluationCharts.Of("wash10").Modes[0]]);
        UnitDangers dangers = new(space);
        RigRandom random = new(77);
        double[] probability = [.. Enumerable.Range(0, space.Count + 1).Select(_ => random.Unit() / space.Count)];
        byte[][] from = [new byte[512]];
        byte[][] levels = [new byte[512]];
        LitScan slots = new(space, dangers);
        slots.Load(from, probability);
        foreach (int slot in Enumerable.Range(1, 512).Where(_ => random.Chance(0.2)))
        {
            levels[0][slot - 1] = 255;
            slots.Set(0, slot, 255);
        }

        LitScan once = new(space, dangers);
        once.Load(levels, from, probability);
        Assert.True(once.Risk > 0.1);
        Assert.Equal(slots.Risk, once.Risk, 9);
        Assert.Equal(slots.LitMass, once.LitMass, 6);
        Assert.Equal(slots.Bits(0.05), once.Bits(0.05), 6);
    }

    private static double[] Only(AskSpace space, params AskPlace[] places)
    {
        double[] prior = new double[space.Count + 1];
        foreach (AskPlace place in places)
        {
            prior[space.IndexOf(place)] = 1.0 / places.Length;
        }

        return prior;
    }
}
