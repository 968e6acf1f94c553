using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Tests.Json;

/// <summary>An explanation in which every field has a value.</summary>
internal static class Explained
{
    private static readonly Timestamp At = Timestamp.FromUnixNanoseconds(1_773_517_267_000_000_000);

    public static SenderSummary Desk { get; } = new() { Index = 0, Protocol = UniverseProtocol.Sacn, Name = "desk", Address = "10.0.0.1", Addresses = ["10.0.0.1"], Cid = "c" };

    public static Explanation Dark { get; } = new(
        new PatchUnit("A", "x", "m", 1, 61, "", "", "", [], "", 2),
        new ChartMode("m", [], 1),
        new UniverseId(UniverseProtocol.Sacn, 1),
        At,
        [
            new SenderView(
                new SenderSummary { Index = 0, Protocol = UniverseProtocol.Sacn, Name = "desk", Address = "10.0.0.1", Addresses = ["10.0.0.1"], Cid = "c" },
                InCharge: true, 100, At, At, UnitState.Dark, new LightOutput(0, 0, 0, true),
                [new Reason("the dimmer is 0", 1, At)],
                [new SlotState { Slot = 1, Address = 61, Chart = null, Range = null, Value = 0, Previous = 3, Changed = At, MeaningSince = At, Changes = 1 }]),
        ])
    {
        Winners = [Answer],
        PutOut = [new PutOutView(WinCondition.SlotBySlot, new SenderView(Desk, true, -1, At, At, UnitState.Dark, default, [], [new SlotState { Slot = 1, Address = 61, Chart = null, Range = null, Value = 0 }]))],
    };

    public static SlotAnswer Answer => new()
    {
        Universe = new UniverseId(UniverseProtocol.Sacn, 1),
        Slot = 61,
        At = At,
        Cases = [new SlotCase(WinCondition.SlotBySlot, [0], WinRule.AddressPriority, At, 0, new SlotMove(At, 3, 0, ChangeCause.LevelChanged, 0))],
        Contenders = [new Contender(0, 0, 100, 120, false, At)],
        Sync = SyncState.Held,
        SyncAddress = 7,
        LastSync = At,
        Mode = MergeMode.NotKnown,
    };
}
