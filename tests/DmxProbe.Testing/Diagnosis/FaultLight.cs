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

/// <summary>A rig's light as a sensor sees it (colour, 15 dB over its noise, 100 ms late), and what locating makes of it.</summary>
internal static class FaultLight
{
    private const int Rate = SlotHistory.RatePerSecond;
    private const double Decibels = 15;
    private const int FewestMoves = 6;
    private static readonly Duration Late = Duration.FromMilliseconds(100);

    /// <summary>Locates the unit of a fault.</summary>
    /// <exception cref="InvalidOperationException">This light can tell nothing: it hardly moves, or a programme takes it over.</exception>
    public static LocatedUnit Locate(FaultRig rig, LightFault fault, SimulatedCapture capture)
    {
        RigRandom random = new(rig.Seed + 71);
        int samples = (int)(rig.Length / 1_000_000_000 * Rate);
        double[][] own = fault.SheetUniverse == 0 ? Programme(samples, random) : Own(rig, fault, samples);
        if (own.Max(channel => LightMoves.Count(channel, LightMoves.Threshold)) < FewestMoves)
        {
            throw new InvalidOperationException("this light hardly moves");
        }

        double[][] spill = [new double[samples], new double[samples], new double[samples]];
        double[][] seen = new RigCamera(false, random).See(own, spill, rgb: true, Decibels);
        LightTrace trace = new([.. Enumerable.Range(0, samples).Select(t => capture.Start + Late + Duration.FromNanoseconds(t * 1_000_000_000L / Rate))], seen);

        RecordDecoder decoder = new();
        SlotHistoryAnalyzer keeper = new() { StartFrom = () => decoder.FirstRecord };
        using (SimulatedSource source = capture.ToSource())
        {
            new Session(source, decoder, keeper).Run(CancellationToken.None);
        }

        IReadOnlyList<SlotHistory> histories = keeper.Snapshot();
        PatchSheet sheet = new(rig.Units);
        PatchUnit unit = fault.Unit;
        ChartMode own0 = rig.Charts.Find(unit.Type, unit.Mode)!;
        ChartMode[] modes = [own0, .. rig.Charts.Find(unit.Type)!.Modes.Where(mode => mode != own0)];
        int HistoryOf(int universe) => Array.FindIndex([.. histories], history => history.Universe == rig.Usual(universe));
        LocateQuestion question = new(
            histories,
            trace,
            modes,
            [.. rig.Units.Where(other => other != unit && HistoryOf(other.Universe) >= 0 && rig.Charts.Find(other.Type, other.Mode) is not null).Select(other => new OtherUnit(other.Unit, HistoryOf(other.Universe), other.Address, rig.Charts.Find(other.Type, other.Mode)!))],
            [.. Prior(rig, unit, sheet, modes, HistoryOf)]);
        LocateCase about = new(question, sheet, rig.Charts, unit, [.. histories.Select(history => Enumerable.Range(1, FaultRig.Universes).FirstOrDefault(number => rig.Usual(number) == history.Universe, -1))]);
        LocateResult result = LocateInference.Run(question);
        return new LocatedUnit(unit.Unit, result, LocateNarrator.Answer(result, about));
    }

    private static IEnumerable<PriorCandidate> Prior(FaultRig rig, PatchUnit unit, PatchSheet sheet, ChartMode[] modes, Func<int, int> historyOf)
    {
        string[] others = [.. modes.Skip(1).Select(mode => mode.Name)];
        foreach (AddressCandidate candidate in HumanErrors.Candidates(unit, rig.Charts.FootprintOf(unit.Type, unit.Mode), sheet, others))
        {
            int mode = candidate.Mode is null ? 0 : Array.FindIndex(modes, each => each.Name == candidate.Mode);
            int history = historyOf(candidate.Universe);
            if (mode >= 0 && history >= 0)
            {
                bool asTheSheetSays = candidate.Universe == unit.Universe && candidate.Address == unit.Address && candidate.Mode is null;
                yield return new PriorCandidate(new Hypothesis(history, candidate.Address, mode), candidate.Weight, asTheSheetSays ? "" : candidate.Explanation);
            }
        }
    }

    private static double[][] Own(FaultRig rig, LightFault fault, int samples)
    {
        FaultStream stream = rig.Main.Streams.First(each => each.Universe == rig.Usual(fault.SheetUniverse));
        byte[][] frames = new byte[samples][];
        for (int t = 0; t < samples; t++)
        {
            frames[t] = new byte[512];
            stream.Plan.Levels(t * 1_000_000_000L / Rate, frames[t].AsSpan(0, stream.Plan.SlotCount));
        }

        return RigLight.UnpredictableShare(frames, fault.Address, fault.Mode) > 0
            ? throw new InvalidOperationException("at this address a programme takes it over")
            : RigLight.Of(frames, fault.Address, fault.Mode, null);
    }

    // Three to six steps of a second or so, again and again.
    private static double[][] Programme(int samples, RigRandom random)
    {
        int steps = 3 + random.Below(4);
        double length = random.Between(0.4, 1.7) * Rate;
        double[][] colours = [.. Enumerable.Range(0, steps).Select(_ => new[] { random.Unit(), random.Unit(), random.Unit() })];
        return [.. Enumerable.Range(0, 3).Select(channel => Enumerable.Range(0, samples).Select(t => colours[(int)(t / length) % steps][channel]).ToArray())];
    }
}
