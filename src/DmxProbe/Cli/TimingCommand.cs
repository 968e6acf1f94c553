using System.CommandLine;

using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>timing INPUT..</c>: measured against the published limits, several inputs side by side.</summary>
internal static class TimingCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        ProbeCommand command = new("timing", "Refresh rate, silence, keep-alive and slots sent of every sender, held against the published limits.")
        {
            Examples =
            [
                ("dmxprobe timing tonight.pcapng", "one capture"),
                ("dmxprobe timing before.pcap after.pcap", "two captures side by side"),
            ],
            ExitCodes = [(ExitCode.Clean, "no figure is outside its limits"), (ExitCode.FaultsFound, "at least one is"), (ExitCode.CouldNotRun, "could not run")],
            Notes = ["A network capture measures when packets arrive. Break, mark after break and bit times exist on the DMX line only and are not measurable here."],
        };
        LiveOptions live = new();
        command.Add(inputs);
        live.AddTo(command);
        command.SetAction(parsed =>
        {
            LiveAsked asked = live.Asked(parsed, host);
            List<(string Input, IReadOnlyList<TimingMeasurement> Figures)> measured =
                [.. parsed.GetRequiredValue(inputs).Select(input => (input, Measure(input, asked, host.Stop)))];
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => TimingJson.Write(stream, measured));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                TimingText.Write(page, measured, parsed.GetValue(common.All));
                page.WriteTo(host.Output);
            }

            return measured.Any(input => input.Figures.Any(TimingText.IsOutside)) ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }

    private static IReadOnlyList<TimingMeasurement> Measure(string input, LiveAsked live, CancellationToken stop)
    {
        using ICaptureSource source = Inputs.OpenMerged([input], live);
        SurveySnapshot survey = Surveyor.Run(source, stop);
        if (!Inputs.IsLive(input))
        {
            stop.ThrowIfCancellationRequested();
        }

        return NetworkTiming.Measure(survey);
    }
}
