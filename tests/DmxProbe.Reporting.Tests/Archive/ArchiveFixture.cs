using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Archive;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Reporting.Tests.Archive;

/// <summary>An archive of three shows, the last with more than 1,000,000,000 levels; made once.</summary>
public sealed class ArchiveFixture : IDisposable
{
    public ArchiveFixture()
    {
        Folder = Directory.CreateTempSubdirectory("dmxprobe-archive-").FullName;
        Pack(Folder, Orchard, new ArchiveShow("The Glass Orchard", "Harbour Hall", "friday-20260314t200000z"), sheetUniverses: 2);
        Pack(Folder, Harbour, new ArchiveShow("Pêcheurs d’Islande / acte 2", "Old Mill", "sunday-20260316t190000z"), sheetUniverses: 0);
        BigValues = Pack(Folder, Big, new ArchiveShow("Long Night", "Harbour Hall", "long-20260320t180000z"), sheetUniverses: 0);
    }

    public string Folder { get; }

    /// <summary>Levels of the big show.</summary>
    public long BigValues { get; }

    /// <summary>A show that crosses a full hour.</summary>
    public static ShowPlan Orchard { get; } = new()
    {
        Show = 3,
        Universes = 2,
        Seconds = 150,
        MeanGap = 5,
        Effects = 0.05,
        Start = Timestamp.FromUnixNanoseconds(1_773_518_400_000_000_000 - 60_000_000_123),
        Edits = [new ShowEdit(1) { Levels = (cue, _, slots) => slots[72] = cue % 4 == 2 ? (byte)0 : Math.Max((byte)1, slots[72]) }], // U1-07 goes dark in every fourth cue
    };

    /// <summary>Another, with losses.</summary>
    public static ShowPlan Harbour { get; } = new()
    {
        Show = 4,
        Universes = 3,
        Seconds = 60,
        ConstantRate = true,
        Start = Timestamp.FromUnixNanoseconds(1_773_687_600_000_000_000),
        Edits = [new ShowEdit(2) { Loss = 0.2 }],
    };

    /// <summary>A long one: 8 universes of 512 slots at 44 Hz.</summary>
    public static ShowPlan Big { get; } = new()
    {
        Show = 6,
        Universes = 8,
        Seconds = 5_560,
        ConstantRate = true,
        Start = Timestamp.FromUnixNanoseconds(1_774_029_600_000_000_000),
    };

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    /// <summary>Packs a show into a folder.</summary>
    public static long Pack(string folder, ShowPlan plan, ArchiveShow show, int sheetUniverses, long mostOctets = ShowPacker.MostOctets)
    {
        FileStream Create(ArchivePlace place)
        {
            string inside = Path.Combine([folder, .. place.Folders]);
            Directory.CreateDirectory(inside);
            return new FileStream(Path.Combine(inside, place.File), FileMode.CreateNew, FileAccess.ReadWrite);
        }

        using CuedShow source = new(plan);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        using ShowPacker packer = new(decoder, show, Create, mostOctets);
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, packer), CancellationToken.None);
        packer.Finish();
        FindingsTable.Write(show, survey, Create);
        if (sheetUniverses > 0)
        {
            PatchSheet sheet = PatchReader.Read(new StringReader(ShowRig.Sheet(sheetUniverses))).Sheet!;
            ChartSet charts = new([ChartReader.Read("spot", new StringReader(ShowRig.Chart)).Chart!]);
            UnitsTable.Write(show, survey.First!.Value, sheet.Units, charts, Enumerable.Range(1, sheetUniverses).ToDictionary(each => each, each => new UniverseId(UniverseProtocol.Sacn, each)), Create);
        }

        return packer.Values;
    }
}
