using System.CommandLine;

using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>patch check SHEET</c>: the sheet by itself, against the charts, and against a capture.</summary>
internal static class PatchCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        ProbeCommand patch = new("patch", "The patch sheet checked by itself.");
        patch.Add(Check(common, host));
        return patch;
    }

    private static ProbeCommand Check(CommonOptions common, ProgramHost host)
    {
        Argument<string> sheet = new("SHEET") { Description = "The patch sheet: CSV, xlsx or MVR with a unit, a type and an address for each light.", Arity = ArgumentArity.ExactlyOne };
        Option<string?> capture = new("--capture") { HelpName = "INPUT", Description = "A capture to hold the sheet against: universes that are not in it, units beyond the slots sent, RDM devices that say another address or number of slots." };
        SheetFlags sheets = new();
        Option<string?> map = SheetOptions.Map();
        ProbeCommand check = new("check", "What was recognised in the sheet, then all it proves by itself: overlaps, footprints, units past slot 512, names twice, unknown types and modes, chains, dangerous slots; against a capture also what is not sent.")
        {
            Examples =
            [
                ("dmxprobe patch check patch.csv", "the sheet and its charts"),
                ("dmxprobe patch check patch.xlsx --columns unit=A,address=F", "a sheet whose headings leave a question open"),
                ("dmxprobe patch check patch.csv --capture tonight.pcapng --map 1=artnet:0,2=sacn:2", "the same, against what is sent"),
            ],
            ExitCodes = [(ExitCode.Clean, "no fault on the sheet"), (ExitCode.FaultsFound, "at least one fault, or the capture was not read to its end"), (ExitCode.CouldNotRun, "could not run")],
        };
        check.Add(sheet);
        check.Add(capture);
        check.Add(map);
        sheets.AddTo(check);
        check.SetAction(parsed =>
        {
            SheetInUse inUse = sheets.Open(parsed, parsed.GetRequiredValue(sheet));
            PatchSheet patch = inUse.Patch;
            UniverseMap? wire = null;
            IReadOnlyDictionary<int, UniverseFacts>? facts = null;
            RdmSheetResult? rdm = null;
            SurveySnapshot? survey = null;
            if (parsed.GetValue(capture) is string input)
            {
                survey = Surveyed(input, host.Stop);
                NoRecords.Refuse(survey.Inputs, "hold the sheet against");
                wire = SheetOptions.MapFor(parsed.GetValue(map), patch, survey);
                facts = Facts(patch, wire, survey);
                rdm = survey.Rdm is null ? null : RdmSheetCheck.Compare(survey.Rdm, patch, inUse.Charts, wire.Wire);
            }
            else if (parsed.GetValue(map) is not null)
            {
                throw new UsageException("--map says which universe of a capture a sheet universe is, and no capture is given; add --capture INPUT");
            }

            IReadOnlyList<PatchFinding> findings = PatchCheck.Check(patch, inUse.Charts, facts);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => PatchJson.Write(stream, patch, wire?.Wire, findings, inUse.Recognition, DangerousSlots.Of(patch, inUse.Charts), rdm));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                PatchText.Write(page, inUse, wire, findings, rdm, survey, parsed.GetValue(common.All));
                page.WriteTo(host.Output);
            }

            return findings.Any(finding => finding.Severity == PatchSeverity.Fault) || rdm?.Remarks.Any(remark => remark.Severity == Severity.Fault) == true || survey?.IsCut == true ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return check;
    }

    private static SurveySnapshot Surveyed(string input, CancellationToken stop)
    {
        using ICaptureSource source = Inputs.Open(input);
        SurveySnapshot survey = Surveyor.Run(source, stop);
        stop.ThrowIfCancellationRequested();
        return survey;
    }

    // A sheet universe that may be one of two is held against neither.
    internal static Dictionary<int, UniverseFacts> Facts(PatchSheet patch, UniverseMap map, SurveySnapshot survey)
    {
        HashSet<int> open = [.. map.Ambiguous.Select(entry => entry.Sheet)];
        Dictionary<int, UniverseFacts> facts = [];
        foreach (int sheet in patch.Universes.Where(universe => !open.Contains(universe)))
        {
            bool isKnown = map.Wire.TryGetValue(sheet, out Analysis.Decoding.UniverseId id);
            UniverseSummary? universe = isKnown
                ? survey.Universes.FirstOrDefault(candidate => candidate.Id == id)
                : null;
            bool hasRdm = isKnown && survey.Rdm?.Ports.Any(port => port.Universe == id) == true;
            facts[sheet] = new UniverseFacts(universe is not null || hasRdm, universe?.SlotCounts.Select(count => count.Value).DefaultIfEmpty().Max() ?? 0);
        }

        return facts;
    }
}
