using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Diagnosis;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>Causes in what a unit is told that the rigs of the table do not have, by hand.</summary>
public class ToldCausesTests
{
    private static readonly Duration Minute = Duration.FromSeconds(60);

    // A mode of red, green and blue only: its dimmer at the controller is one of the profile's own making.
    [Fact]
    public void A_mode_without_a_dimmer_whose_colours_stay_at_0_is_named()
    {
        ChartMode mode = FaultCharts.All.Find("wash", "6 slot")!;
        ChartMode bare = new("3 slot", [.. mode.Slots.Where(slot => slot.Role is SlotRole.Red or SlotRole.Green or SlotRole.Blue)], 3);
        DiagnosisResult result = Run(bare, new SlotActivity(0, 0, 0, 0, 0), new SlotActivity(0, 0, 0, 0, 0), new SlotActivity(0, 0, 0, 0, 0));
        Assert.Equal(CauseState.Likely, Assert.Single(result.Ranked, report => report.Cause.Id == "no-dimmer-slot").State);
        Assert.Equal("no-dimmer-slot", result.Ranked.First(report => report.Cause.Id == "told-dark").FollowsFrom);
    }

    // 40 steps of the coarse slot and none of the fine one.
    [Fact]
    public void A_fine_slot_that_never_moves_is_named()
    {
        ChartMode head = FaultCharts.All.Find("head", "14 slot")!;
        DiagnosisResult result = Run(head, [.. Enumerable.Range(1, 14).Select(slot => slot == 1 ? new SlotActivity(90, 50, 90, 40, 0) : new SlotActivity(128, 128, 128, 0, 0))], UnitConditions.None);
        CauseReport report = Assert.Single(result.Ranked, each => each.Cause.Id == "fine-slot-still");
        Assert.Contains("Pan (1.001) moves and its fine slot never does", report.Text, StringComparison.Ordinal);
        Assert.Contains(Run(head, [.. Enumerable.Range(1, 14).Select(_ => new SlotActivity(90, 50, 90, 40, 0))], UnitConditions.None).Excluded, each => each.Cause.Id == "fine-slot-still");
    }

    private static DiagnosisResult Run(ChartMode mode, params SlotActivity[] slots) => Run(mode, slots, UnitConditions.Dark);

    private static DiagnosisResult Run(ChartMode mode, SlotActivity[] slots, UnitConditions holds)
    {
        UniverseId universe = new(UniverseProtocol.Sacn, 1);
        SenderSummary sender = new() { Index = 0, Protocol = UniverseProtocol.Sacn, Name = "main", Address = "10.0.0.10", Addresses = ["10.0.0.10"] };
        PatchUnit unit = new("A", "wash", mode.Name, 1, 1, "", "", "", [], "", 2);
        Timestamp start = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000);
        UnitActivity activity = new()
        {
            Watched = new WatchedUnit(unit, mode, slots.Length),
            Universe = universe,
            Sender = sender,
            SlotsSent = 512,
            Followed = Minute,
            Slots = slots,
            Conditions = holds == UnitConditions.None ? [] : [new ConditionSpan(holds, Minute, Minute, start, true)],
        };
        SurveySnapshot survey = new()
        {
            Inputs = [],
            Universes = [new UniverseSummary { Id = universe, Frames = 1, SlotCounts = [], Streams = [], Obeyed = [] }],
            Nodes = [],
            Discovery = [],
            Findings = [],
        };
        return Diagnoser.Run(new DiagnosisCase(survey, [activity])
        {
            Sheet = new PatchSheet([unit]),
            Charts = FaultCharts.All,
            Bad = ["A"],
            Wire = new Dictionary<int, UniverseId> { [1] = universe },
        });
    }
}
