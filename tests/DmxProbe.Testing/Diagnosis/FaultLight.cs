using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>The light of one unit of a rig, filmed for a minute; and what locating makes of it.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Universe">The universe of the sheet that it really reads; 0 where it runs by itself.</param>
/// <param name="Address">The address that it really reads.</param>
/// <param name="Mode">The mode that it really is in.</param>
public sealed record FaultLight(PatchUnit Unit, int Universe, int Address, string Mode)
{
    private const int Seconds = 60;
    private const double Decibels = 15;

    /// <summary>Films it and locates it.</summary>
    public LocatedUnit Locate(FaultRig rig, PatchSheet sheet)
    {
        int samples = Seconds * SlotHistory.RatePerSecond;
        Timestamp start = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000);
        byte[][][] levels = [.. Enumerable.Range(1, FaultRig.Universes).Select(universe => Sampled(rig.Show.Of(universe), samples))];
        RigRandom random = new(rig.Seed + 11);
        byte[][] read = Universe > 0 ? levels[Universe - 1] : Sampled(new FaultShow([.. rig.Units], rig.Charts, rig.Seed + 77).Of(Unit.Universe), samples);
        double[][] own = RigLight.Of(read, Address, rig.Charts.Find(Unit.Type, Mode)!, null);
        double[][] seen = new RigCamera(rough: false, random).See(own, [new double[samples], new double[samples], new double[samples]], rgb: true, Decibels);
        Timestamp[] times = [.. Enumerable.Range(0, seen[0].Length).Select(t => start + Duration.FromNanoseconds(t * 1_000_000_000L / SlotHistory.RatePerSecond))];
        ChartMode sheetMode = rig.Charts.Find(Unit.Type, Unit.Mode)!;
        ChartMode[] modes = [sheetMode, .. rig.Charts.Find(Unit.Type)!.Modes.Where(mode => mode != sheetMode)];
        string[] others = [.. modes.Skip(1).Select(mode => mode.Name)];
        LocateQuestion question = new(
            [.. levels.Select((frames, index) => History(rig.Wire(index + 1), frames, start))],
            new LightTrace(times, seen),
            modes,
            [.. sheet.Units.Where(unit => unit != Unit).Select(unit => new OtherUnit(unit.Unit, unit.Universe - 1, unit.Address, rig.Charts.Find(unit.Type, unit.Mode)!))],
            [
                .. HumanErrors.Candidates(Unit, sheetMode.Footprint, sheet, others).Where(candidate => candidate.Universe is >= 1 and <= FaultRig.Universes)
                    .Select(candidate => new PriorCandidate(
                        new Hypothesis(candidate.Universe - 1, candidate.Address, candidate.Mode is null ? 0 : Array.FindIndex(modes, mode => mode.Name == candidate.Mode)),
                        candidate.Weight,
                        candidate.Universe == Unit.Universe && candidate.Address == Unit.Address && candidate.Mode is null ? "" : candidate.Explanation)),
            ]);
        LocateResult result = LocateInference.Run(question);
        LocateCase about = new(question, sheet, rig.Charts, Unit, [1, 2, 3]);
        return new LocatedUnit(Unit.Unit, result, LocateNarrator.Answer(result, about));
    }

    private static byte[][] Sampled(LevelSource levels, int samples)
    {
        byte[][] frames = new byte[samples][];
        for (int t = 0; t < samples; t++)
        {
            frames[t] = new byte[SlotHistory.SlotCount];
            levels(t * 1_000_000_000L / SlotHistory.RatePerSecond, frames[t]);
        }

        return frames;
    }

    private static SlotHistory History(UniverseId universe, byte[][] frames, Timestamp start)
    {
        SlotHistory history = new(universe, -1, start);
        for (int t = 0; t < frames.Length; t++)
        {
            history.Record(t, frames[t]);
        }

        return history;
    }
}
