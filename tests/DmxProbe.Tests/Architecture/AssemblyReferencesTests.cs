using System.Reflection;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Capture.Files;
using DmxProbe.Cli;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tests.Architecture;

/// <summary>Who may know whom (docs/architecture.md). That no assembly below the program reads a clock is held by src/BannedSymbols.txt in every build.</summary>
public class AssemblyReferencesTests
{
    public static TheoryData<string, string[]> Allowed => new()
    {
        { nameof(Protocols), [] },
        { nameof(Fixtures), ["Sep"] },
        { nameof(Capture), ["DmxProbe.Protocols", "SharpPcap", "PacketDotNet", "System.IO.Ports"] }, // SharpPcap names link types in PacketDotNet's terms
        { nameof(Analysis), ["DmxProbe.Protocols", "DmxProbe.Fixtures"] },
        { nameof(Reporting), ["DmxProbe.Protocols", "DmxProbe.Fixtures", "DmxProbe.Analysis", "Parquet", "ScottPlot", "Sep", "SkiaSharp"] },
        {
            "Program",
            [
                "DmxProbe.Protocols", "DmxProbe.Fixtures", "DmxProbe.Capture", "DmxProbe.Analysis", "DmxProbe.Reporting",
                "System.CommandLine", "Spectre.Console", "Spectre.Console.Ansi", "Terminal.Gui",
            ]
        },
    };

    [Theory]
    [MemberData(nameof(Allowed))]
    public void An_assembly_refers_to_those_below_it_only(string name, string[] allowed)
    {
        string[] referenced =
        [
            .. AssemblyOf(name).GetReferencedAssemblies()
                .Select(reference => reference.Name!)
                .Where(reference => !IsOfTheRuntime(reference)),
        ];
        Assert.Empty(referenced.Except(allowed));
    }

    [Fact]
    public void No_assembly_below_the_program_and_capture_opens_a_file()
    {
        foreach (string name in new[] { nameof(Protocols), nameof(Fixtures), nameof(Analysis), nameof(Reporting) })
        {
            Type[] openers = [typeof(File), typeof(FileStream), typeof(FileInfo), typeof(Directory), typeof(DirectoryInfo)];
            IEnumerable<string> used = TypesReferencedBy(AssemblyOf(name));
            Assert.Empty(used.Intersect(openers.Select(type => type.FullName!)));
        }
    }

    private static Assembly AssemblyOf(string name) => name switch
    {
        nameof(Protocols) => typeof(Timestamp).Assembly,
        nameof(Fixtures) => typeof(Chart).Assembly,
        nameof(Capture) => typeof(CaptureFile).Assembly,
        nameof(Analysis) => typeof(UniverseId).Assembly,
        nameof(Reporting) => typeof(Printable).Assembly,
        _ => typeof(DmxProbeProgram).Assembly,
    };

    private static bool IsOfTheRuntime(string reference) =>
        (reference.StartsWith("System.", StringComparison.Ordinal) && reference != "System.CommandLine") || reference is "netstandard" or "Microsoft.Win32.Primitives";

    private static List<string> TypesReferencedBy(Assembly assembly)
    {
        using FileStream file = File.OpenRead(assembly.Location);
        using System.Reflection.PortableExecutable.PEReader image = new(file);
        System.Reflection.Metadata.MetadataReader metadata = System.Reflection.Metadata.PEReaderExtensions.GetMetadataReader(image);
        return
        [
            .. metadata.TypeReferences
                .Select(metadata.GetTypeReference)
                .Select(type => metadata.GetString(type.Namespace) + "." + metadata.GetString(type.Name)),
        ];
    }
}
