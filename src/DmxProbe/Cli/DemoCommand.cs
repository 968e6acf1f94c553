using System.CommandLine;

using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Demo;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>demo</c>: the built-in soundcheck, surveyed; and whether the answers are those built into it.</summary>
internal static class DemoCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        ProbeCommand command = new("demo", "Surveys and diagnoses a built-in soundcheck, locates the light that does not follow, measures a line, and checks its own answers; needs no file.")
        {
            Examples = [("dmxprobe demo", "shows what the program does")],
            ExitCodes =
            [
                (ExitCode.Clean, "the answers built into the soundcheck came out (a fault among them: finding it is the right answer)"),
                (ExitCode.CouldNotRun, "an answer differs: this build is not to be trusted"),
            ],
            Notes = ["Harbour Hall and its soundcheck are invented: made by a simulator, with faults built in. Nothing of it was recorded in a real hall."],
        };
        command.SetAction(parsed =>
        {
            SurveySnapshot survey = Surveyed(host.Stop);
            LocateRun located = DemoLocate.Run(host.Stop);
            DiagnoseRun diagnosed = DemoDiagnose.Run(located, host.Stop);
            TimedInput line = DemoLine.Run(host.Stop);
            IReadOnlyList<DemoAnswer> answers = [.. DemoSurvey.Answers(survey), .. DemoLocate.Answers(located), .. DemoDiagnose.Answers(diagnosed), .. DemoLine.Answers(line)];
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => DemoJson.Write(
                    stream,
                    survey,
                    located.Result,
                    located.About,
                    located.Answer,
                    diagnosed.Case,
                    diagnosed.Result,
                    line,
                    answers.Select(answer => (answer.Question, answer.Expected, answer.Found))));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                page.Paragraph("Harbour Hall, soundcheck: 60 s at a mirror port of the lighting network (built in; invented, with faults).");
                DemoText.InShort(page, survey, located, line);
                page.Blank();
                SurveyText.Write(page, survey, common.Zone(parsed, host), parsed.GetValue(common.All));
                page.Blank();
                page.Heading("LX1-6 does not follow. Which address is it really reading? (dmxprobe locate)");
                LocateText.Write(page, located);
                page.Blank();
                page.Heading("LX1-6: what is wrong, from network, line, sheet and light together? (dmxprobe diagnose)");
                DiagnoseText.Short(page, diagnosed);
                page.Blank();
                page.Heading("The stage-left gateway's line, recorded for 2.5 s (dmxprobe timing)");
                TimingText.Write(page, [line], parsed.GetValue(common.All));
                DemoText.Write(page, answers);
                page.WriteTo(host.Output);
            }

            DemoAnswer? differs = answers.FirstOrDefault(answer => !answer.Reproduced);
            return differs is null
                ? ExitCode.Clean
                : throw new UsageException(
                    $"the demo's own answers did not come out: {differs.Question} expected '{differs.Expected}', found '{differs.Found}'; do not trust this build");
        });
        return command;
    }

    private static SurveySnapshot Surveyed(CancellationToken stop)
    {
        using ICaptureSource source = HarbourHall.Capture();
        SurveySnapshot survey = Surveyor.Run(source, stop);
        stop.ThrowIfCancellationRequested();
        return survey;
    }
}
