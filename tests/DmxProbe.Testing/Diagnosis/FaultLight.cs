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

    // The show ran before the capture began; by then every unit has had its levels.
    private static readonly Duration Begun = Duration.FromMilliseconds(1_000);

    /// <summary>Locates the unit of a fault.</summary>
    /// <exception cref="InvalidOperationException">This light can tell nothing, whoever looks at it: it hardly moves, a programme takes it over, or another place carries the same light.</exception>
    public static LocatedUnit Locate(FaultRig rig, LightFault fault, SimulatedCapture capture)
    {
        RigRandom random = new(rig.Seed + 71);
        int samples = (int)((rig.Length - Begun.Nanoseconds) / 1_000_000_000 * Rate);
        Timestamp[] looks = Looks(capture.Start + Begun, samples, random);
        double[][] own = fault.SheetUniverse == 0 ? Programme(samples, random) : Own(rig, fault, WireLevels.Of(capture, looks));
        if (own.Max(channel => LightMoves.Count(channel, LightMoves.Threshold)) < FewestMoves)
        {
            throw new InvalidOperationException("this light hardly moves");
        }

        double[][] spill = [new double[samples], new double[samples], new double[samples]];
        double[][] seen = new RigCamera(false, random).See(own, spill, rgb: true, Decibels);
        LightTrace trace = new([.. looks.Select(look => look + Late)], seen);

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
                yield return new PriorCandidate(new Hypothesis(history, candidate.Address, mode), candidate.Weight, asTheSheetSays ? "" : candidate.Explanation)
                {
                    OtherErrors = asTheSheetSays ? [] : [.. candidate.Explanations.Skip(1)],
                };
            }
        }
    }

    // The pictures of a camera are taken when it likes, not on the grid of the histories.
    private static Timestamp[] Looks(Timestamp start, int samples, RigRandom random)
    {
        double phase = random.Unit();
        return [.. Enumerable.Range(0, samples).Select(t => start + Duration.FromNanoseconds((long)((t + phase) * 1_000_000_000 / Rate)))];
    }

    // A unit follows what came over the wire, frame by frame.
    private static double[][] Own(FaultRig rig, LightFault fault, WireLevels wire)
    {
        if (wire.Find(rig.Usual(fault.SheetUniverse)) is not { } frames)
        {
            throw new InvalidOperationException("that universe is not sent");
        }

        if (RigLight.UnpredictableShare(frames, fault.Address, fault.Mode) > 0)
        {
            throw new InvalidOperationException("at this address a programme takes it over");
        }

        double[][] own = RigLight.Of(frames, fault.Address, fault.Mode, null);
        ChartMode[] modes = [.. rig.Charts.Find(fault.Unit.Type)!.Modes];
        return LightTwins.Has(own, wire, modes, (rig.Usual(fault.SheetUniverse), fault.Address, fault.Mode))
            ? throw new InvalidOperationException("another place carries the same light")
            : own;
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
