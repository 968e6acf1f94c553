using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Analysis.Tests.Compare;

/// <summary>Against two nights of a simulated show whose differences are known.</summary>
public class NightComparerTests
{
    [Fact]
    public void All_20_planted_differences_are_found_and_nothing_else()
    {
        NightComparison found = Compare(PlantedNights.Last, PlantedNights.Tonight, Units(9));
        IReadOnlyList<(double At, double Fade)> lastCues = new CueList(PlantedNights.Last).Cues;
        IReadOnlyList<(double At, double Fade)> cues = new CueList(PlantedNights.Tonight).Cues;
        List<NightDifference> left = [.. found.Differences];
        foreach ((string kind, string subject, int cue) in PlantedNights.Planted)
        {
            NightDifference? difference = left.Find(each => each.Kind.ToString() == kind
                && (subject.Length == 0 || string.Join(' ', each.Subjects) == subject)
                && (cue < 0 || IsAt(each.At, PlantedNights.Tonight.Start, cues[cue].At) || IsAt(each.AtLastNight, PlantedNights.Last.Start, lastCues[cue].At)));
            Assert.True(difference is not null, $"{kind} of '{subject}' at cue {cue} is not among:\n{Words(left)}");
            left.Remove(difference);
        }

        Assert.True(left.Count == 0, Words(left));
        Assert.InRange(found.CuesInBoth, cues.Count - 8, cues.Count);
    }

    [Fact]
    public void Two_nights_without_a_difference_are_alike_however_late_the_operator_is()
    {
        for (ulong show = 1; show <= 4; show++)
        {
            ShowPlan plan = new() { Show = show, Universes = 4, Seconds = 600, OperatorSeconds = 5, ShortestGap = 6, MeanGap = 6, Effects = 0.02 };
            NightComparison found = Compare(plan with { Night = 1 }, plan with { Night = 2, Start = plan.Start + Duration.FromSeconds(90_000) }, Units(4));
            Assert.True(found.Differences.Count == 0, $"show {show}:\n{Words(found.Differences)}");
            Assert.True(found.LooksCompared > 20, $"{found.LooksCompared} looks compared");
        }
    }

    [Fact]
    public void Without_a_sheet_neighbouring_slots_are_told_together()
    {
        NightComparison found = Compare(PlantedNights.Last, PlantedNights.Tonight, []);
        Assert.Contains(found.Differences, each => each.Kind == NightDifferenceKind.UnitStill && each.Subjects[0].StartsWith("sACN 1 slots 49 to 5", StringComparison.Ordinal));
        Assert.Contains(found.Differences, each => each.Kind == NightDifferenceKind.Levels && each.Subjects.SequenceEqual(["sACN 4 slot 2"]));
    }

    [Fact]
    public void Another_show_is_said_to_be_another_show()
    {
        ShowPlan plan = new() { Universes = 2, Seconds = 200, ShortestGap = 4 };
        NightComparison found = Compare(plan with { Show = 1 }, plan with { Show = 2 }, []);
        Assert.True(found.CuesInBoth <= 2, $"{found.CuesInBoth} cues in both");
        Assert.NotEmpty(found.Notes);
    }

    [Fact]
    public void A_recording_that_begins_later_and_ends_sooner_is_compared_where_both_are()
    {
        ShowPlan plan = new() { Universes = 3, Seconds = 500, ShortestGap = 6 };
        ShowPlan tonight = plan with { Night = 2, Seconds = 300 };
        NightComparison found = Compare(plan, tonight, Units(3));
        Assert.True(found.Differences.Count == 0, Words(found.Differences));
        Assert.Contains(found.Notes, note => note.Contains("only in last night", StringComparison.Ordinal));
    }

    [Fact]
    public void Of_levels_that_never_change_the_one_look_is_compared()
    {
        NightComparison found = NightComparer.Compare(Still(512, 100, 0).Night, Still(512, 100, 0).Survey, Still(512, 100, 190).Night, Still(512, 100, 190).Survey, [new NightUnit("A", new UniverseId(UniverseProtocol.Sacn, 1), 4, 9)]);
        Assert.Equal(1, found.LooksCompared);
        NightDifference difference = Assert.Single(found.Differences);
        Assert.Equal(NightDifferenceKind.Levels, difference.Kind);
        Assert.Equal(["A"], difference.Subjects);
        Assert.Equal(new NightSlotDifference(new UniverseId(UniverseProtocol.Sacn, 1), 5, 0, 190), Assert.Single(difference.Slots));
    }

    [Fact]
    public void Of_several_senders_of_a_universe_the_one_that_differs_is_named()
    {
        (Night last, SurveySnapshot lastSurvey) = Still(512, 100, 0);
        (Night tonight, SurveySnapshot tonightSurvey) = Still(1, 90, 0);
        NightComparison found = NightComparer.Compare(last, lastSurvey, tonight, tonightSurvey, []);
        Assert.Equal([NightDifferenceKind.SlotCount, NightDifferenceKind.Priority], found.Differences.Select(each => each.Kind));
        Assert.All(found.Differences, each => Assert.StartsWith("sACN 1 of laptop (", Assert.Single(each.Subjects), StringComparison.Ordinal));
        Assert.Equal(("512 slots", "1 slot"), (found.Differences[0].LastNight, found.Differences[0].Tonight));
    }

    // A desk whose slot 5 stands somewhere, and a laptop beside it.
    private static (Night Night, SurveySnapshot Survey) Still(int laptopSlots, int laptopPriority, byte slot5)
    {
        byte[] levels = new byte[512];
        levels[4] = slot5;
        using SimulatedSource source = new SimulatedNetwork(1)
            .Add(new SacnSource("desk", Host.At("a", "10.0.0.1"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e")) { Streams = [new SacnStream { Universe = 1, Levels = (_, slots) => levels.AsSpan(0, slots.Length).CopyTo(slots), ConstantRate = true }] })
            .Add(new SacnSource("laptop", Host.At("b", "10.0.0.2"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143f")) { Streams = [new SacnStream { Universe = 1, Priority = laptopPriority, SlotCount = laptopSlots, Levels = (_, slots) => slots.Clear(), ConstantRate = true }] })
            .Run(5_000_000_000).ToSource();
        return Record(source);
    }

    private static NightComparison Compare(ShowPlan last, ShowPlan tonight, IReadOnlyList<NightUnit> units)
    {
        (Night before, SurveySnapshot beforeSurvey) = Record(last);
        (Night now, SurveySnapshot nowSurvey) = Record(tonight);
        return NightComparer.Compare(before, beforeSurvey, now, nowSurvey, units);
    }

    private static (Night Night, SurveySnapshot Survey) Record(ShowPlan plan)
    {
        using CuedShow source = new(plan);
        return Record(source);
    }

    private static (Night Night, SurveySnapshot Survey) Record(ICaptureSource source)
    {
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        NightRecorder recorder = new();
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, recorder), CancellationToken.None);
        return (recorder.Snapshot(decoder), survey);
    }

    private static NightUnit[] Units(int universes) =>
    [
        .. Enumerable.Range(1, universes).SelectMany(universe => Enumerable.Range(0, ShowRig.Units).Select(unit => new NightUnit(
            ShowRig.Name(universe, unit), new UniverseId(UniverseProtocol.Sacn, universe), ShowRig.Address(unit), ShowRig.Address(unit) + ShowRig.Footprint - 1))),
    ];

    // A cue is told at its first move: the press, or for an extra look the moment it came.
    private static bool IsAt(Timestamp? told, Timestamp start, double seconds) =>
        told is Timestamp at && (at - start).TotalSeconds is double found && found >= seconds - 0.1 && found <= seconds + 6;

    private static string Words(IEnumerable<NightDifference> differences) => string.Join('\n', differences.Select(each =>
        $"{each.Kind} {string.Join(' ', each.Subjects)} {each.At} / {each.AtLastNight} x{each.Cues}: {each.LastNight} -> {each.Tonight}"));
}
