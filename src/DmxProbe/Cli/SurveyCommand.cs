using System.CommandLine;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>survey INPUT..</c>: what is on the wire, and what is wrong with it.</summary>
internal static class SurveyCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        ProbeCommand command = new("survey", "What is on the wire: universes, senders, rates, slots, losses, priorities, who is obeyed, and what is wrong.")
        {
            Examples =
            [
                ("dmxprobe survey tonight.pcapng", "one capture"),
                ("dmxprobe survey net --join 1-4 --for 10s", "what reaches this computer, for 10 seconds"),
                ("dmxprobe survey left.pcap right.pcap", "two captures of the same moment, merged by time"),
            ],
            ExitCodes = [(ExitCode.Clean, "no fault found"), (ExitCode.FaultsFound, "at least one fault found, or an input was not read to its end"), (ExitCode.CouldNotRun, "could not run")],
        };
        LineChoice line = new();
        LiveOptions live = new();
        command.Add(inputs);
        live.AddTo(command);
        line.AddTo(command);
        foreach (Option option in common.OfLines)
        {
            command.Add(option);
        }

        command.SetAction(parsed =>
        {
            LineFileOptions files = common.Lines(parsed);
            SurveySnapshot survey = Run(
                parsed.GetRequiredValue(inputs), live.Asked(parsed, host), files, line.Of(parsed, files), host.Stop);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => SurveyJson.Write(stream, survey));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                SurveyText.Write(page, survey, common.Zone(parsed, host), parsed.GetValue(common.All));
                page.WriteTo(host.Output);
            }

            return survey.Findings.Any(finding => finding.Severity == Severity.Fault) || survey.IsCut ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }

    private static SurveySnapshot Run(
        IReadOnlyList<string> inputs, LiveAsked live, LineFileOptions files, LineOptions line, CancellationToken stop)
    {
        using ICaptureSource source = Inputs.OpenMerged(inputs, live, files);
        LineChoice.Check(source, line);
        SurveySnapshot survey = Surveyor.Run(source, stop, line);

        // Half a survey of a file would look like a whole one; of a live input Ctrl-C is the usual end.
        if (!inputs.Any(Inputs.IsLive))
        {
            stop.ThrowIfCancellationRequested();
            NoRecords.Refuse(survey.Inputs, "survey");
        }

        return survey;
    }
}
