using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Testing.Rigs;

/// <summary>Several units of one type in a row, each with its light in one recording, and the truth about each.</summary>
public sealed class RigRow
{
    private const int Rate = SlotHistory.RatePerSecond;
    private const int Fewest = 6;
    private const int FewestTelling = 3;
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_773_500_000_000_000_000);

    private RigRow(IReadOnlyList<UnitInRow> units, IReadOnlyList<Hypothesis> truths, int firstShifted, int slots)
    {
        Units = units;
        Truths = truths;
        FirstShifted = firstShifted;
        Slots = slots;
    }

    /// <summary>What the inference is told.</summary>
    public IReadOnlyList<UnitInRow> Units { get; }

    /// <summary>What each light reads.</summary>
    public IReadOnlyList<Hypothesis> Truths { get; }

    /// <summary>Index of the first unit that is shifted; -1 without.</summary>
    public int FirstShifted { get; }

    /// <summary>By how many slots.</summary>
    public int Slots { get; }

    /// <summary>Draws a row: the first group of six or more units of a rig; two modes are open, the sheet's and one of another length. Where units are shifted, at least three of their lights move and are predictable.</summary>
    public static RigRow Draw(RigRowFault fault, RigOptions options, long seed)
    {
        ArgumentNullException.ThrowIfNull(options);
        RigRandom random = new(unchecked((ulong)seed * 0xD1342543DE82EF95));
        while (true)
        {
            RigPlan plan = new(random, options.Dense);
            RigUnit[] sheet = [.. plan.Units.Where(unit => unit.OnSheet)];
            RigUnit[]? group = sheet.GroupBy(unit => unit.Group).Select(each => each.ToArray()).FirstOrDefault(each => each.Length >= Fewest);
            if (group is null)
            {
                continue;
            }

            byte[][][] levels = RigShow.Run(plan, options.Show, options.Seconds * Rate, random);
            ChartMode[] modes = [group[0].Mode, random.Pick([.. EvaluationCharts.All.Select(chart => chart.Modes[0]).Where(mode => mode.Footprint != group[0].Mode.Footprint)])];
            if (Of(fault, options, random, plan, sheet, group, modes, levels) is { } row)
            {
                return row;
            }
        }
    }

    private static RigRow? Of(RigRowFault fault, RigOptions options, RigRandom random, RigPlan plan, RigUnit[] sheet, RigUnit[] group, ChartMode[] modes, byte[][][] levels)
    {
        int slots = fault == RigRowFault.AllOneHigh ? 1 : modes[1].Footprint - modes[0].Footprint;
        int culprit = 1 + random.Below(group.Length - 3);
        SlotHistory[] histories = [.. Enumerable.Range(0, RigPlan.Captured).Select(u => History(u, levels[u]))];
        List<UnitInRow> units = [];
        List<Hypothesis> truths = [];
        int telling = 0;
        for (int i = 0; i < group.Length; i++)
        {
            RigUnit unit = group[i];
            int mode = fault == RigRowFault.Shifted && i == culprit ? 1 : 0;
            (int universe, int address) = fault switch
            {
                RigRowFault.Shifted when i > culprit => (unit.Universe, unit.Address + slots),
                RigRowFault.AllOneHigh => (unit.Universe, unit.Address + 1),
                RigRowFault.OwnErrors when random.Chance(0.2) => RigFault.Draw(unit, plan, random),
                _ => (unit.Universe, unit.Address),
            };
            address = Math.Clamp(address, 1, SlotHistory.SlotCount);
            double[][] own = RigLight.Of(levels[universe], address, modes[mode], null);
            bool isShifted = fault == RigRowFault.AllOneHigh || (fault == RigRowFault.Shifted && i > culprit);
            telling += isShifted && RigLight.UnpredictableShare(levels[universe], address, modes[mode]) == 0 &&
                LightMoves.Count(RigCamera.Luminance(own), LightMoves.Threshold) >= LocateRule.FewestMoves ? 1 : 0;
            double[][] spill = [new double[levels[0].Length], new double[levels[0].Length], new double[levels[0].Length]];
            double[][] seen = new RigCamera(options.Rough, random).See(own, spill, options.Rgb, options.SnrDecibels);
            Timestamp[] times = [.. Enumerable.Range(0, seen[0].Length).Select(t => Start + Duration.FromNanoseconds(t * 1_000_000_000L / Rate))];
            OtherAddress[] others = [.. sheet.Where(other => other != unit).Select(other => new OtherAddress(other.Name, other.Universe + 1, other.Address))];
            PriorCandidate[] prior =
            [
                .. HumanErrors.Candidates(unit.Universe + 1, unit.Address, unit.Mode.Footprint, others, [modes[1].Name])
                    .Where(candidate => candidate.Universe is >= 1 and <= RigPlan.Captured)
                    .Select(candidate => new PriorCandidate(new Hypothesis(candidate.Universe - 1, candidate.Address, candidate.Mode is null ? 0 : 1), candidate.Weight, candidate.Explanation)),
            ];
            units.Add(new UnitInRow(unit.Name, unit.Universe + 1, unit.Address, unit.Universe, new LocateQuestion(
                histories,
                new LightTrace(times, seen),
                modes,
                [.. sheet.Where(other => other != unit).Select(other => new OtherUnit(other.Name, other.Universe, other.Address, other.Mode))],
                prior)));
            truths.Add(new Hypothesis(universe, address, mode));
        }

        // A shifted light is often dark, or taken over by a strobe: a row with fewer than three lights that say anything tells nothing.
        if (fault is RigRowFault.Shifted or RigRowFault.AllOneHigh && telling < FewestTelling)
        {
            return null;
        }

        int first = fault switch { RigRowFault.Shifted => culprit + 1, RigRowFault.AllOneHigh => 0, _ => -1 };
        return new RigRow(units, truths, first, first >= 0 ? slots : 0);
    }

    private static SlotHistory History(int universe, byte[][] frames)
    {
        SlotHistory history = new(new UniverseId(UniverseProtocol.Sacn, universe + 1), -1, Start);
        for (int t = 0; t < frames.Length; t++)
        {
            history.Record(t, frames[t]);
        }

        return history;
    }
}
