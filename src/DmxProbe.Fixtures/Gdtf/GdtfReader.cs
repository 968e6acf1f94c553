using System.Globalization;
using System.Xml;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>
/// Reads the chart of a fixture type from GDTF (DIN SPEC 15800): a zip file with a description.xml. Never throws on any
/// bytes; what is unpacked is bounded. A mode that makes no sense is left out and noted; what an attribute means and is
/// not in the table counts as unknown.
/// </summary>
public static class GdtfReader
{
    /// <summary>Largest file, in octets.</summary>
    public const int MaxOctets = 64 * 1024 * 1024;

    /// <summary>Most modes of one fixture type.</summary>
    public const int MaxModes = 1000;

    internal const string Description = "description.xml";
    private const string What = "this is not a readable GDTF file";
    private const string Advice = "export it again from where it came";

    // Units of GDTF's PhysicalUnit worth saying where a function has no sets.
    private static readonly Dictionary<string, string> Units = new(StringComparer.Ordinal)
    {
        ["Frequency"] = "Hz",
        ["Angle"] = "degrees",
        ["AngularSpeed"] = "degrees/s",
        ["Time"] = "s",
        ["Temperature"] = "K",
    };

    /// <summary>Reads a chart.</summary>
    /// <param name="type">Name of the type, as the patch sheet writes it.</param>
    /// <param name="file">The file; read to its end, left open.</param>
    /// <exception cref="IOException">The stream itself fails.</exception>
    public static ChartReading Read(string type, Stream file)
    {
        ArgumentNullException.ThrowIfNull(type);
        ArgumentNullException.ThrowIfNull(file);
        return BoundedBytes.Read(file, MaxOctets) is byte[] octets
            ? Read(type, octets, null)
            : Refused(new TableProblem("the file is too long", 0, "", "at most 64 MB", "more", "check that it is the right file"));
    }

    /// <summary>The name of a mode's part in one break, when it has several: the mode's own for break 1.</summary>
    internal static string ModeName(string mode, int number) => number == 1
        ? mode
        : CellText.Fit(mode, ChartReader.MaxName - 20) + string.Create(CultureInfo.InvariantCulture, $", break {number}");

    /// <summary>Reads a chart that may be an entry of another file.</summary>
    internal static ChartReading Read(string type, byte[] octets, BoundedZip? outer)
    {
        using BoundedZip? zip = BoundedZip.Open(octets, "a GDTF file", out string problem, outer);
        if (zip is null)
        {
            return Refused(new TableProblem(What, 0, "", "a zip file with a description.xml", problem, Advice));
        }

        try
        {
            using XmlReader? xml = zip.Xml(Description, GdtfXml.MaxOctets) ?? zip.Xml("./" + Description, GdtfXml.MaxOctets);
            return xml is null
                ? Refused(new TableProblem(What, 0, "", "a zip file with a description.xml", "a zip file without one", Advice))
                : OfFixture(type, GdtfXml.Read(xml));
        }
        catch (OverLimitException over)
        {
            return Refused(new TableProblem(What, 0, "", "a fixture type", over.Message, "check that it is the right file"));
        }
        catch (XmlException broken)
        {
            // The library's own words quote the text; place and kind are enough.
            return Refused(new TableProblem($"the {Description} in this GDTF file is not well-formed XML", broken.LineNumber, broken.LinePosition > 0 ? Shown.Number(broken.LinePosition) : "",
                "XML without a document type", "", Advice));
        }
        catch (Exception broken) when (broken is InvalidDataException or IOException or NotSupportedException or ArgumentException or FormatException or OverflowException or InvalidOperationException)
        {
            return Refused(new TableProblem(What, 0, "", "a fixture type", broken is InvalidDataException && broken.Message.StartsWith("a description", StringComparison.Ordinal) ? broken.Message : "a damaged file", Advice));
        }
    }

    private static ChartReading OfFixture(string type, GdtfNode fixture)
    {
        ProblemList notes = new();
        Dictionary<string, string> units = [];
        foreach (GdtfNode attribute in fixture.Child("AttributeDefinitions")?.Child("Attributes")?.All("Attribute") ?? [])
        {
            if (attribute["Name"] is { Length: > 0 } name && Units.TryGetValue(attribute["PhysicalUnit"] ?? "", out string? unit))
            {
                units.TryAdd(name, unit);
            }
        }

        List<ChartMode> modes = [];
        HashSet<string> names = new(StringComparer.OrdinalIgnoreCase);
        int number = 0;
        foreach (GdtfNode mode in (fixture.Child("DMXModes")?.All("DMXMode") ?? []).Take(MaxModes))
        {
            number++;
            string name = Unique(CellText.Fit(mode["Name"] ?? "", ChartReader.MaxName - 20) is { Length: > 0 } said ? said : "mode " + Shown.Number(number), names);
            foreach (ChartMode made in GdtfModeReader.Read(fixture, mode, name, units, notes))
            {
                modes.Add(made);
            }
        }

        if (modes.Count > 0)
        {
            return new ChartReading(new Chart(type, modes), []) { Notes = notes.Problems };
        }

        return Refused(notes.Any ? notes.Problems[0] : new TableProblem(What, 0, "", "a fixture type with DMX modes", "one without", Advice));
    }

    private static string Unique(string name, HashSet<string> taken)
    {
        string unique = name;
        for (int i = 2; !taken.Add(unique); i++)
        {
            unique = string.Create(CultureInfo.InvariantCulture, $"{name} ({i})");
        }

        return unique;
    }

    private static ChartReading Refused(TableProblem problem) => new(null, [problem]);
}
