using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Testing.Rigs;

/// <summary>One simulated case: what the inference is told, and the truth it is not told.</summary>
public sealed class Rig
{
    private const int Rate = SlotHistory.RatePerSecond;
    private const int Attempts = 300;
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_773_500_000_000_000_000);

    private Rig(LocateQuestion question, Hypothesis? truth, RigUnit unit)
    {
        Question = question;
        Truth = truth;
        Unit = unit;
    }

    /// <summary>What the inference is told.</summary>
    public LocateQuestion Question { get; }

    /// <summary>What the light reads; null when nothing captured explains it.</summary>
    public Hypothesis? Truth { get; }

    /// <summary>The unit as the sheet has it.</summary>
    public RigUnit Unit { get; }

    /// <summary>Draws the rig of a seed; the same seed and options always give the same rig.</summary>
    public static Rig Draw(RigOptions options, long seed)
    {
        ArgumentNullException.ThrowIfNull(options);
        RigRandom random = new(unchecked((ulong)seed * 0xD1342543DE82EF95));
        while (true)
        {
            RigPlan plan = new(random, options.Dense);
            byte[][][] levels = RigShow.Run(plan, options.Show, options.Seconds * Rate, random);
            for (int attempt = 0; attempt < Attempts; attempt++)
            {
                if (Attempt(options, plan, levels, random) is { } rig)
                {
                    return rig;
                }
            }
        }
    }

    private static Rig? Attempt(RigOptions options, RigPlan plan, byte[][][] levels, RigRandom random)
    {
        RigUnit[] sheet = [.. plan.Units.Where(unit => unit.OnSheet)];
        RigUnit unit = random.Pick(sheet);
        ChartMode[] modes = options.SevenModes ? [unit.Mode, .. Modes().Where(mode => mode != unit.Mode)] : [unit.Mode];
        int mode = modes.Length > 1 && random.Chance(0.2) ? 1 + random.Below(modes.Length - 1) : 0;
        PriorCandidate[] prior = Prior(unit, sheet, modes);
        (int universe, int address) = RigFault.Draw(unit, plan, random);
        if (options.Truth == RigTruth.OutsideTheList)
        {
            (universe, address) = RigFault.Anywhere(random);
            if (prior.Any(candidate => candidate.Hypothesis == new Hypothesis(universe, address, mode)))
            {
                return null;
            }
        }

        bool captured = options.Truth <= RigTruth.FewChanges;
        if (captured && RigLight.UnpredictableShare(levels[universe], address, modes[mode]) > 0 != options.TakenOver)
        {
            return null;
        }

        double[][] own = Seen(options, Own(options, plan, levels, random, unit, modes[mode], universe, address));
        int moves = options.Rgb
            ? own.Max(channel => LightMoves.Count(channel, LightMoves.Threshold))
            : LightMoves.Count(RigCamera.Luminance(own), LightMoves.Threshold);
        if (moves < LocateRule.FewestMoves != (options.Truth == RigTruth.FewChanges))
        {
            return null;
        }

        if (options.Truth == RigTruth.FewChanges && moves == 0 && !random.Chance(0.05))
        {
            // A light that never changes asks no question; a few of them stay in.
            return null;
        }

        double[][] spill = Seen(options, Spill(options, sheet, unit, levels, random));
        LocateQuestion question = new(
            [.. Enumerable.Range(0, RigPlan.Captured).Select(u => History(u, levels[u]))],
            Trace(options, own, spill, random),
            modes,
            [.. sheet.Where(other => other != unit).Select(other => new OtherUnit(other.Name, other.Universe, other.Address, other.Mode))],
            prior);
        return new Rig(question, captured ? new Hypothesis(universe, address, mode) : null, unit);
    }

    private static LightTrace Trace(RigOptions options, double[][] own, double[][] spill, RigRandom random)
    {
        RigCamera camera = new(options.Rough, random);
        if (options.Sensor != RigSensor.Meter)
        {
            RigPhone phone = new(options.PicturesPerSecond, random);
            return options.Sensor == RigSensor.Video
                ? phone.Filmed(camera.Clean(own, spill, true), Start)
                : phone.Readings(camera.Clean(own, spill, options.Rgb), options.SnrDecibels, Start);
        }

        double[][] seen = camera.See(own, spill, options.Rgb, options.SnrDecibels);
        return new LightTrace([.. Enumerable.Range(0, seen[0].Length).Select(t => Start + Duration.FromNanoseconds(t * 1_000_000_000L / Rate))], seen);
    }

    private static double[][] Seen(RigOptions options, double[][] light) =>
        options.TraceSeconds == 0 ? light : [.. light.Select(channel => channel[..(options.TraceSeconds * Rate)])];

    private static IEnumerable<ChartMode> Modes() => EvaluationCharts.All.Select(chart => chart.Modes[0]);

    private static SlotHistory History(int universe, byte[][] frames)
    {
        SlotHistory history = new(new UniverseId(UniverseProtocol.Sacn, universe + 1), -1, Start);
        for (int t = 0; t < frames.Length; t++)
        {
            history.Record(t, frames[t]);
        }

        return history;
    }

    private static double[][] Own(
        RigOptions options, RigPlan plan, byte[][][] levels, RigRandom random, RigUnit unit, ChartMode mode, int universe, int address)
    {
        Dictionary<SlotRole, double> strengths = [];
        double Drawn(SlotRole role)
        {
            if (!strengths.TryGetValue(role, out double known))
            {
                strengths.Add(role, known = Math.Exp(0.25 * random.Gaussian()));
            }

            return known;
        }

        Func<SlotRole, double>? strength = options.Rough ? Drawn : null;
        int samples = levels[0].Length;
        switch (options.Truth)
        {
            case RigTruth.AnotherShow:
                RigPlan other = new(random, false);
                byte[][][] show = RigShow.Run(other, options.Show, samples, random);
                RigUnit foreign = random.Pick([.. other.Units.Where(candidate => candidate.OnSheet)]);
                return RigLight.Of(show[foreign.Universe], foreign.Address, foreign.Mode, strength);
            case RigTruth.OwnProgramme:
                return Programme(samples, random);
            case RigTruth.SameCues:
                RigUnit hidden = random.Pick([.. plan.Units.Where(candidate => candidate.Universe == RigPlan.Hidden)]);
                return RigLight.Of(levels[RigPlan.Hidden], hidden.Address, hidden.Mode, strength);
            default:
                return RigLight.Of(levels[universe], address, mode, strength);
        }
    }

    /// <summary>Three to six steps of a second or so, again and again, with or without fades.</summary>
    private static double[][] Programme(int samples, RigRandom random)
    {
        int steps = 3 + random.Below(4);
        double length = random.Between(0.3, 2) * Rate;
        bool fades = random.Chance(0.5);
        double[][] colours = [.. Enumerable.Range(0, steps).Select(_ => new[] { random.Unit(), random.Unit(), random.Unit() })];
        double[][] light = [new double[samples], new double[samples], new double[samples]];
        for (int t = 0; t < samples; t++)
        {
            double place = t / length;
            int step = (int)place;
            double share = fades ? place - step : 0;
            for (int c = 0; c < 3; c++)
            {
                light[c][t] = (colours[step % steps][c] * (1 - share)) + (colours[(step + 1) % steps][c] * share);
            }
        }

        return light;
    }

    private static double[][] Spill(RigOptions options, RigUnit[] sheet, RigUnit unit, byte[][][] levels, RigRandom random)
    {
        int samples = levels[0].Length;
        double[][] spill = [new double[samples], new double[samples], new double[samples]];
        double share = options.SpillOfSum + (options.SpillOfMean / (sheet.Length - 1));
        if (share == 0)
        {
            return spill;
        }

        foreach (RigUnit other in sheet.Where(other => other != unit))
        {
            double amount = options.SpillSpread == 0 ? share : share * Math.Exp(options.SpillSpread * random.Gaussian());
            double[][] light = RigLight.Of(levels[other.Universe], other.Address, other.Mode, null);
            for (int c = 0; c < 3; c++)
            {
                for (int t = 0; t < samples; t++)
                {
                    spill[c][t] += amount * light[c][t];
                }
            }
        }

        return spill;
    }

    private static PriorCandidate[] Prior(RigUnit unit, RigUnit[] sheet, ChartMode[] modes)
    {
        OtherAddress[] others = [.. sheet.Where(other => other != unit).Select(other => new OtherAddress(other.Name, other.Universe + 1, other.Address))];
        return
        [
            .. HumanErrors.Candidates(unit.Universe + 1, unit.Address, unit.Mode.Footprint, others, [.. modes.Skip(1).Select(mode => mode.Name)])
                .Where(candidate => candidate.Universe is >= 1 and <= RigPlan.Captured)
                .Select(candidate => new PriorCandidate(
                    new Hypothesis(candidate.Universe - 1, candidate.Address, ModeOf(candidate.Mode, modes)), candidate.Weight, candidate.Explanation)),
        ];
    }

    private static int ModeOf(string? name, ChartMode[] modes) => name is null ? 0 : Math.Max(0, Array.FindIndex(modes, mode => mode.Name == name));
}
