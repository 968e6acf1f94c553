using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Tests.Json;

/// <summary>An answer of locate with something in every field.</summary>
internal static class Located
{
    private static readonly LocateCandidate First =
        new(new Hypothesis(0, 16, 0), new UniverseId(UniverseProtocol.ArtNet, 0), 0, "m", 0.995, 900, "digits swapped");

    private static readonly LocateCandidate Second = First with { Hypothesis = new Hypothesis(1, 61, 0), Score = 0.001 };

    /// <summary>The result.</summary>
    public static LocateResult Result { get; } = new(
        LocateClaim.Found, true, First, Second, [First], 0.9999, [First, Second], null, 100)
    {
        Contributions = [new LocateContribution("look", "'dark' noted at 1.0 s", Timestamp.FromUnixNanoseconds(1), 2.5, Second)],
    };

    /// <summary>What it is about; the second history is of a universe that the sheet does not have.</summary>
    public static LocateCase About { get; } = MakeCase();

    /// <summary>The answer in words.</summary>
    public static LocateAnswer Answer { get; } =
        new(LocateClaim.Found, false, "A reads 1.016.", "digits swapped", "Set it.", "Look.", ["evidence"], ["mind"]);

    private static LocateCase MakeCase()
    {
        Timestamp start = Timestamp.FromUnixNanoseconds(0);
        Chart chart = ChartReader.Read("x", new StringReader("mode,slot,function,from,to,meaning\nm,1,Dimmer,0,255,0 to 100%\n")).Chart!;
        PatchSheet sheet = PatchReader.Read(new StringReader("unit,type,mode,universe,address\nA,x,m,1,61\n")).Sheet!;
        LocateQuestion question = new(
            [
                new SlotHistory(new UniverseId(UniverseProtocol.ArtNet, 0), 0, start),
                new SlotHistory(new UniverseId(UniverseProtocol.Sacn, 9), 0, start),
            ],
            null!,
            chart.Modes,
            [],
            []);
        return new LocateCase(question, sheet, new ChartSet([chart]), sheet.Units[0], [1, -1]);
    }
}
