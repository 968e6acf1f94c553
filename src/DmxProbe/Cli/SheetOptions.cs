using System.CommandLine;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli;

/// <summary>Options of the commands that read a patch sheet.</summary>
internal static class SheetOptions
{
    /// <summary><c>--charts</c>.</summary>
    public static Option<string?> Charts() => new("--charts")
    {
        HelpName = "DIR",
        Description = "Where the charts are, TYPE.csv, TYPE.gdtf or TYPE.json each; by itself the folder 'charts' beside the sheet, or the sheet's own folder.",
    };

    /// <summary><c>--map</c>.</summary>
    public static Option<string?> Map() => new("--map")
    {
        HelpName = "1=artnet:0,2=sacn:2",
        Description = "Which universe of the capture each universe of the sheet is; those left out are found where only one reading is possible; a DMX line or a serial port has no number: 1=line:A, 1=serial:A.",
    };

    /// <summary>The map as given, and as found for the universes it leaves.</summary>
    /// <exception cref="UsageException">What was given is no map, or none was given for a DMX line.</exception>
    public static UniverseMap MapFor(string? given, PatchSheet sheet, SurveySnapshot survey) =>
        UniverseMap.Of(sheet, Captured(survey), UniverseMap.Given(given, sheet));

    // A universe that only RDM passes on is in the capture as well.
    private static IEnumerable<UniverseId> Captured(SurveySnapshot survey) => survey.Universes.Select(universe => universe.Id)
        .Concat((survey.Rdm?.Ports ?? []).Select(port => port.Universe).Where(id => id.Protocol == UniverseProtocol.ArtNet));
}
