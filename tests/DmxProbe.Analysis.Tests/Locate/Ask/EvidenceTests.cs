using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate.Ask;

/// <summary>Each kind of evidence by itself, and all of them together.</summary>
public class EvidenceTests
{
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_773_500_000_000_000_000);
    private static readonly AskSpace Space = new([new UniverseId(UniverseProtocol.Sacn, 1)], AskTrial.FourModes);

    [Fact]
    public void A_look_speaks_for_the_places_that_were_lit_a_moment_before()
    {
        // Slot 7 goes up at 10 s and down at 12 s; slot 9 the other way round.
        SlotHistory history = History((0, 9, 255), (300, 7, 255), (300, 9, 0), (360, 7, 0), (360, 9, 255));
        AskPosterior posterior = With(LookEvidence.OfCapture(Space, [history], Start + Duration.FromSeconds(11.5), Seen.Lit, "look"));
        Assert.True(Of(posterior, 7, 0) > 10 * Of(posterior, 9, 0));

        // Noted half a second after the change: people look, then write. It says little.
        AskPosterior late = With(LookEvidence.OfCapture(Space, [history], Start + Duration.FromSeconds(12.5), Seen.Lit, "look"));
        Assert.InRange(Of(late, 7, 0) / Of(late, 9, 0), 0.3, 3);
    }

    [Fact]
    public void A_colour_tells_red_green_blue_from_a_dimmer()
    {
        byte[] levels = new byte[512];
        levels[6] = 255;
        AskPosterior posterior = With(LookEvidence.OfLevels(Space, [levels], new Seen(SeenKind.Lit, SeenColour.Red), "look", null));
        Assert.True(Of(posterior, 7, 1) > 5 * Of(posterior, 7, 0));   // red by itself, not a white dimmer
        Assert.True(Of(posterior, 7, 1) > 5 * Of(posterior, 6, 1));   // slot 7 is its green
    }

    [Fact]
    public void Taps_speak_for_the_place_that_moved_before_each_of_them()
    {
        SlotHistory history = History((60, 7, 255), (200, 7, 0), (410, 7, 200), (90, 30, 255), (250, 30, 0), (440, 30, 200));
        Timestamp[] taps = [.. new[] { 60, 200, 410 }.Select(sample => Start + Duration.FromSeconds((sample / 30.0) + 0.31))];
        AskPosterior posterior = With(TapEvidence.Of(Space, [history], taps));
        Assert.True(Of(posterior, 7, 0) > 1000 * Of(posterior, 30, 0));
        Assert.True(Of(posterior, 7, 0) > 100 * Of(posterior, 300, 0));
    }

    [Fact]
    public void What_a_unit_says_it_stores_counts_but_may_be_of_another_unit()
    {
        AskPosterior posterior = With(NotedRdmEvidence.Of(Space, new RdmReport(16, 4), null, "rdm", null));

        // By hand, 512 addresses of 4 modes of different footprints, prior 0.98 / 2048 each and 0.02 for none of them: the place
        // itself .98 x .98, the other modes and places .98 x .06 + .02 x 1.04, none of them 1 / 512.
        double place = 0.98 / 2048;
        double here = place * 0.98 * 0.98;
        double whole = here + (place * ((0.98 * 0.06) + (0.02 * 1.04))) + (0.02 / 512);
        Assert.Equal(here / whole, Of(posterior, 16, 2), 3);
        Assert.True(Of(posterior, 61, 2) > 1e-9);
    }

    [Fact]
    public void What_devices_in_the_capture_report_is_trusted_as_far_as_the_report_is()
    {
        // By hand: 2,048 places, one of which agrees; at the trust .5 it is likelier than any other by (.5 + .5 x 2,048) / .5.
        LocateReport report = new("RDM", "", true, 0.5, [new Hypothesis(0, 16, 2), new Hypothesis(1, 16, 2)]);
        AskPosterior posterior = With(DeviceEvidence.Of(Space, [Space.Universes[0], Space.Universes[0]], report));
        Assert.Equal((0.5 + (0.5 * 2048)) / 0.5, Of(posterior, 16, 2) / Of(posterior, 61, 2), 3);
    }

    [Fact]
    public void Evidence_adds_up_in_any_order_and_its_contributions_add_up_to_the_whole()
    {
        SlotHistory history = History((0, 7, 255));
        AskEvidence look = LookEvidence.OfCapture(Space, [history], Start + Duration.FromSeconds(5), Seen.Lit, "look");
        AskEvidence rdm = NotedRdmEvidence.Of(Space, new RdmReport(7), null, "rdm", null);
        AskPosterior one = With(look, rdm);
        AskPosterior other = With(rdm, look);
        Assert.Equal(1, one.Probability.Sum(), 9);
        for (int i = 0; i <= Space.Count; i++)
        {
            Assert.Equal(one.Probability[i], other.Probability[i], 12);
        }

        int best = Space.IndexOf(new AskPlace(0, 7, 0));
        int sheet = Space.IndexOf(new AskPlace(0, 100, 0));
        double whole = Math.Log(one.Probability[best] / one.Probability[sheet]);
        Assert.Equal(whole, one.Contribution(look, best, sheet) + one.Contribution(rdm, best, sheet), 6);
    }

    [Fact]
    public void How_often_the_eye_errs_is_learnt_from_answers_that_disagree()
    {
        byte[] up = new byte[512];
        up[6] = 255;
        AskPosterior steady = With([.. Enumerable.Repeat(LookEvidence.OfLevels(Space, [up], Seen.Lit, "", null), 12)]);
        AskPosterior shaky = With([.. Enumerable.Range(0, 12).Select(i => LookEvidence.OfLevels(Space, [up], i % 4 == 0 ? Seen.Dark : Seen.Lit, "", null))]);
        Assert.True(shaky.EyeError > 2 * steady.EyeError);
    }

    [Fact]
    public void A_trace_that_leaves_two_open_is_settled_by_looks()
    {
        // Rigs of the evaluation generator whose trace of 15 s claims nothing; looks are taken from the truth.
        int helped = 0;
        int wrong = 0;
        for (int seed = 0; seed < 12; seed++)
        {
            Rig rig = Rig.Draw(new RigOptions { Seconds = 75, TraceSeconds = 15, Show = RigShowKind.Cued }, 40_000 + seed);
            LocateResult alone = LocateInference.Run(rig.Question);
            if (alone.Claim is LocateClaim.Found or LocateClaim.Class)
            {
                continue;
            }

            AskSpace space = new([.. rig.Question.Histories.Select(history => history.Universe)], rig.Question.Modes);
            double[] prior = AskPrior.Of(space, [.. rig.Question.Prior.Select(each => (new AskPlace(each.Hypothesis.History, each.Hypothesis.Address, each.Hypothesis.Mode), each.Weight))]);
            AskPosterior posterior = new(space, prior);
            posterior.Add(TraceEvidence.Of(space, rig.Question.Histories, alone));
            IReadOnlyList<Timestamp> taps = SimulatedTaps.Of(rig, 15, 75, 8, new RigRandom((ulong)seed));
            if (taps.Count > 0)
            {
                posterior.Add(TapEvidence.Of(space, rig.Question.Histories, taps, rig.Question.Histories[0].Start + Duration.FromSeconds(15)));
            }

            LocateResult with = new AskJudge(rig.Question, space, prior).Judge(posterior, -1);
            bool claims = with.Claim is LocateClaim.Found or LocateClaim.Class;
            bool right = with.ClassMembers.Any(member => member.Hypothesis == rig.Truth);
            helped += claims && right ? 1 : 0;
            wrong += claims && !right ? 1 : 0;
        }

        Assert.Equal(0, wrong);
        Assert.True(helped >= 1, "taps settled nothing");
    }

    private static AskPosterior With(params AskEvidence[] evidence)
    {
        AskPosterior posterior = new(Space, AskPrior.Of(Space, []));
        Array.ForEach(evidence, posterior.Add);
        return posterior;
    }

    private static double Of(AskPosterior posterior, int address, int mode) => posterior.Probability[Space.IndexOf(new AskPlace(0, address, mode))];

    private static SlotHistory History(params (int Sample, int Slot, byte Level)[] changes)
    {
        SlotHistory history = new(new UniverseId(UniverseProtocol.Sacn, 1), -1, Start);
        byte[] levels = new byte[512];
        foreach (IGrouping<int, (int Sample, int Slot, byte Level)> same in changes.GroupBy(change => change.Sample).OrderBy(group => group.Key))
        {
            foreach ((_, int slot, byte level) in same)
            {
                levels[slot - 1] = level;
            }

            history.Record(same.Key, levels);
        }

        history.ExtendTo(600);
        return history;
    }
}
