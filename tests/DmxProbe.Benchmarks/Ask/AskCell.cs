using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks.Ask;

/// <summary>A row of the table of guided questions.</summary>
/// <param name="Name">Its name, as --cells takes it.</param>
/// <param name="Faders">Faders of a page; 0 = ranges.</param>
/// <param name="EyeError">How often the person errs.</param>
/// <param name="IsErring">Whether truth and prior are of human errors; else even.</param>
public sealed record AskCell(string Name, int Faders, double EyeError, bool IsErring)
{
    /// <summary>All rows.</summary>
    public static IReadOnlyList<AskCell> All { get; } =
    [
        new("ranges-even-5", 0, 0.05, false),
        new("ranges-even-10", 0, 0.10, false),
        new("ranges-errors-5", 0, 0.05, true),
        new("ranges-errors-10", 0, 0.10, true),
        new("faders8-errors-5", 8, 0.05, true),
        new("faders8-even-5", 8, 0.05, false),
    ];

    /// <summary>Draws the trial of a seed.</summary>
    public AskTrial Run(long seed)
    {
        RigRandom random = new(unchecked((ulong)seed * 0xD1342543DE82EF95));
        (AskRig rig, AskSafety safety) = AskTrial.Open(AskTrial.FourModes);
        (AskPlace truth, double[] prior) = IsErring ? AskTrial.Erring(rig.Space, random) : (AskTrial.Anywhere(rig.Space, random), AskPrior.Of(rig.Space, []));
        IAskPlanner planner = Faders > 0 ? new FaderPlanner(rig, Faders) : new RangePlanner(rig);
        return AskTrial.Run(prior, safety, planner, rig.Space, truth, EyeError, random);
    }
}
