using System.Globalization;
using System.Xml;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Gdtf;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Mvr;

/// <summary>
/// Reads an MVR file (DIN SPEC 15801): a zip with the description of a scene and the GDTF files of its fixtures. Gives
/// the patched fixtures as the units of a patch sheet, and their charts. Never throws on any bytes.
/// </summary>
public static class MvrReader
{
    /// <summary>Largest file, in octets.</summary>
    public const int MaxOctets = 64 * 1024 * 1024;

    private const string SceneName = "GeneralSceneDescription.xml";
    private const string Extension = ".gdtf";
    private const int MaxSceneCharacters = 64 * 1024 * 1024;
    private const int MaxGdtfOctets = 64 * 1024 * 1024;
    private const int MaxCharts = 500;
    private const string What = "an MVR file";
    private const string Advice = "save it again from the program it is from, or type the patch as CSV";

    /// <summary>Reads a file.</summary>
    /// <param name="file">The file; read to its end, left open.</param>
    /// <exception cref="IOException">The stream itself fails.</exception>
    public static MvrReading Read(Stream file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return BoundedBytes.Read(file, MaxOctets) is byte[] octets ? Read(octets) : Refused("more than 64 MB");
    }

    /// <summary>Whether a zip file has a scene description in it; false for what is no zip file.</summary>
    internal static bool IsMvr(byte[] octets)
    {
        using BoundedZip? zip = BoundedZip.Open(octets, What, out _);
        return zip?.Has(SceneName) == true;
    }

    /// <summary>Reads a file that is in memory.</summary>
    internal static MvrReading Read(byte[] octets)
    {
        using BoundedZip? zip = BoundedZip.Open(octets, What, out string problem);
        if (zip is null)
        {
            return Refused(problem);
        }

        try
        {
            using XmlReader? xml = zip.Xml(SceneName, MaxSceneCharacters);
            if (xml is null)
            {
                return Refused("a zip file without " + SceneName);
            }

            MvrScene scene = MvrScene.Read(xml);
            if (!scene.Found)
            {
                return Refused("a " + SceneName + " without a scene in it");
            }

            List<string> notes = [];
            ChartSet charts = new(Charts(zip, scene, notes));
            return Units(scene, charts, notes);
        }
        catch (OverLimitException over)
        {
            return Refused(over.Message);
        }
        catch (XmlException broken)
        {
            return new MvrReading(null, [], [], [new TableProblem("the scene description of this MVR file is broken", broken.LineNumber, "", "whole XML without a document type", "", Advice)]);
        }
        catch (Exception broken) when (broken is InvalidDataException or IOException or NotSupportedException or ArgumentException or FormatException or OverflowException)
        {
            // The library's words name positions inside a part, which help nobody.
            return Refused("parts that are broken");
        }
    }

    private static MvrReading Refused(string found) => new(null, [], [], [new TableProblem("this is not a readable MVR file", 0, "", What, found, Advice)]);

    private static string TypeOf(MvrFixture fixture)
    {
        string name = fixture.Spec.EndsWith(Extension, StringComparison.OrdinalIgnoreCase) ? fixture.Spec[..^Extension.Length] : fixture.Spec;
        return name.Trim() is { Length: > 0 } type ? type : "no type";
    }

    private static List<Chart> Charts(BoundedZip zip, MvrScene scene, List<string> notes)
    {
        List<Chart> charts = [];
        string[] specs = [.. scene.Fixtures.Select(fixture => fixture.Spec).Where(spec => spec.Length > 0).Distinct(StringComparer.OrdinalIgnoreCase)];
        foreach (string spec in specs.Take(MaxCharts))
        {
            // A name is only ever compared with the names inside: it can lead nowhere.
            string type = TypeOf(new MvrFixture("", 0) { Spec = spec });
            byte[]? octets = zip.Octets(spec, MaxGdtfOctets) ?? zip.Octets(spec + Extension, MaxGdtfOctets);
            if (octets is null)
            {
                Note(notes, $"no GDTF file {Shown.Quoted(spec)} in it, or one that is too long: its units have no chart from here");
                continue;
            }

            ChartReading reading = GdtfReader.Read(type, octets, zip);
            if (reading.Chart is { } chart)
            {
                charts.Add(chart);
            }
            else
            {
                Note(notes, $"{Shown.Quoted(spec)} in it: {(reading.Problems.Count > 0 ? reading.Problems[0] : "not a chart")}");
            }
        }

        return charts;
    }

    private static MvrReading Units(MvrScene scene, ChartSet charts, List<string> notes)
    {
        List<PatchUnit> units = [];
        HashSet<string> taken = new(StringComparer.OrdinalIgnoreCase);
        int free = 0;
        foreach (MvrFixture fixture in scene.Fixtures)
        {
            string name = NameOf(fixture, taken);
            (int Break, int Absolute)[] patched = [.. Patched(fixture, name, notes)];
            free += patched.Length == 0 ? 1 : 0;
            for (int i = 0; i < patched.Length; i++)
            {
                string type = TypeOf(fixture);
                string position = scene.Positions.GetValueOrDefault(fixture.Position, "");
                units.Add(new PatchUnit(i == 0 ? name : string.Create(CultureInfo.InvariantCulture, $"{name}/{i + 1}"), type, ModeOf(charts.Find(type), fixture.Mode, patched[i].Break, i == 0),
                    MvrAddress.Universe(patched[i].Absolute), MvrAddress.Address(patched[i].Absolute), position, "", "", [], "", fixture.Line));
            }

            if (units.Count > PatchReader.MaxUnits)
            {
                return Refused("more than 20,000 units");
            }
        }

        if (free > 0)
        {
            Note(notes, string.Create(CultureInfo.InvariantCulture, $"{free} fixture{(free == 1 ? "" : "s")} without an address left out"));
        }

        return units.Count == 0
            ? new MvrReading(null, [.. charts.Charts], notes, [new TableProblem("nothing in this MVR file is patched", 0, "", "fixtures with an address of 1 or more",
                scene.Fixtures.Count == 0 ? "no fixtures" : string.Create(CultureInfo.InvariantCulture, $"{scene.Fixtures.Count} without an address"), "patch the fixtures and save it again")])
            : new MvrReading(new PatchSheet(units), [.. charts.Charts], notes, []);
    }

    /// <summary>Its number where it has one (0 is none), else its name, made unlike the others: many are called by their type.</summary>
    private static string NameOf(MvrFixture fixture, HashSet<string> taken)
    {
        if (fixture.Id.Length > 0 && fixture.Id != "0")
        {
            return fixture.Id; // two of one number are a finding of the patch check
        }

        string plain = fixture.Name.Length > 0 ? fixture.Name : "unnamed", name = plain;
        for (int i = 2; !taken.Add(name); i++)
        {
            name = string.Create(CultureInfo.InvariantCulture, $"{plain} #{i}");
        }

        return name;
    }

    /// <summary>Break (from 1, as in GDTF) and address of each start address, in order; an address of 0 is not patched.</summary>
    private static IEnumerable<(int Break, int Absolute)> Patched(MvrFixture fixture, string name, List<string> notes)
    {
        if (fixture.Addresses.Count == 0)
        {
            yield break;
        }

        // The format counts breaks from 0, the fixture's own file from 1, and files are found with either.
        int shift = fixture.Addresses.Min(address => address.Break) == 0 ? 1 : 0;
        foreach ((int number, string text) in fixture.Addresses.OrderBy(address => address.Break))
        {
            if (MvrAddress.Absolute(text) is not int absolute)
            {
                Note(notes, $"{Shown.Quoted(name)}: {Shown.Cell(text)} is no address and is left out");
            }
            else if (absolute > 0)
            {
                yield return (number == int.MaxValue ? number : number + shift, absolute);
            }
        }
    }

    /// <summary>The name of the mode as the chart has it; each further break of a mode is a mode of its own there.</summary>
    private static string ModeOf(Chart? chart, string mode, int number, bool first)
    {
        string ofBreak = GdtfReader.ModeName(mode, number);
        return chart?.Modes.Any(known => known.Name.Equals(ofBreak, StringComparison.OrdinalIgnoreCase)) == true || !first ? ofBreak : mode;
    }

    private static void Note(List<string> notes, string note)
    {
        if (notes.Count < ProblemList.Kept)
        {
            notes.Add(note);
        }
    }
}
