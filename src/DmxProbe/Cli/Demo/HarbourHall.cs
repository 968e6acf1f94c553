using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Demo;

/// <summary>The built-in soundcheck: the files of captures/harbour-hall, embedded in the program.</summary>
internal static class HarbourHall
{
    private const string Prefix = "harbour-hall/";
    private const string ChartPrefix = Prefix + "charts/";

    /// <summary>The capture.</summary>
    public static ICaptureSource Capture() => CaptureFileReader.Open(Open(Prefix + "soundcheck.pcapng"), Prefix + "soundcheck.pcapng");

    /// <summary>The line of the stage-left gateway, as recorded.</summary>
    public static ICaptureSource StageLeft() => CaptureFileReader.Open(Open(Prefix + "stage-left.vcd"), Prefix + "stage-left.vcd");

    /// <summary>The patch sheet.</summary>
    public static PatchSheet Patch()
    {
        using StreamReader text = new(Open(Prefix + "patch.csv"));
        return PatchReader.Read(text).Sheet ?? throw Damaged("patch.csv");
    }

    /// <summary>The charts of every type on the sheet.</summary>
    public static ChartSet Charts() => new(Names().Where(name => name.StartsWith(ChartPrefix, StringComparison.Ordinal)).Select(Chart));

    /// <summary>The light of LX1-6, measured.</summary>
    public static StreamReader Trace() => new(Open(Prefix + "lx1-6-trace.csv"));

    private static Chart Chart(string name)
    {
        using StreamReader text = new(Open(name));
        return ChartReader.Read(Path.GetFileNameWithoutExtension(name), text).Chart ?? throw Damaged(name);
    }

    // Built on Windows the folder inside a name is parted by a backslash.
    private static IEnumerable<string> Names() =>
        typeof(HarbourHall).Assembly.GetManifestResourceNames().Select(name => name.Replace('\\', '/'));

    private static Stream Open(string name) =>
        typeof(HarbourHall).Assembly.GetManifestResourceStream(name)
            ?? typeof(HarbourHall).Assembly.GetManifestResourceStream(ChartPrefix.TrimEnd('/') + "\\" + Path.GetFileName(name))
            ?? throw Damaged(name);

    private static UsageException Damaged(string name) =>
        new($"the built-in soundcheck lacks {name}: this build is damaged; build the program again");
}
