using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Walk;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Tests.Json;

/// <summary>A walk of one unit with one move.</summary>
internal static class Walked
{
    public static WalkResult Result()
    {
        UniverseId universe = new(UniverseProtocol.Sacn, 1);
        ChartMode mode = new("m", [new ChartSlot(1, "Dimmer", SlotRole.Intensity, [new ChartRange(0, 255, "0-100%", RangeEffect.Proportional)])], 1);
        WalkAnalyzer walk = new([new WalkTarget(new PatchUnit("A", "x", "m", 1, 1, "", "", "", [], "", 2), universe, mode, 1)]);
        for (byte level = 0; level < 3; level++)
        {
            walk.OnFrame(new DmxFrame { Time = Timestamp.FromUnixNanoseconds(level * 1_000_000), Record = 1, Universe = universe, Stream = 0, Sender = 0, UniverseIndex = 0, Slots = [level] });
        }

        return walk.Snapshot();
    }
}
