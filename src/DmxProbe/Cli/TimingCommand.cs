using System.CommandLine;

using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>timing INPUT..</c>: rates, silences, keep-alive and slot counts against the published limits.</summary>
internal static class TimingCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<double> clockPpm = new("--clock-ppm")
        {
            HelpName = "PPM",
            Description = "Error of the capture's clock in parts per million; a figure nearer to a limit than that is undecided.",
            DefaultValueFactory = _ => NetworkTiming.DefaultClockPpm,
        };
        ProbeCommand command = new("timing", "Measured timing of each sender against the limits of E1.31, Art-Net and E1.11's refresh arithmetic, each with its source.")
        {
            Examples =
            [
                ("dmxprobe timing tonight.pcapng", "one capture"),
                ("dmxprobe timing before.pcap after.pcap", "two captures side by side"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "no figure outside its limits"),
                (ExitCode.FaultsFound, "at least one figure outside its limits"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes = ["A network capture cannot measure the DMX512 line itself (break, mark after break, slot time)."],
        };
        command.Add(inputs);
        command.Add(clockPpm);
        command.SetAction(parsed =>
        {
            double ppm = parsed.GetValue(clockPpm);
            if (!(ppm >= 0 && ppm <= 1e5))
            {
                throw new UsageException("--clock-ppm takes a number from 0 to 100000; see 'dmxprobe timing --help'");
            }

            List<(string Input, IReadOnlyList<TimingMeasurement> Figures)> measured = [];
            foreach (string input in parsed.GetRequiredValue(inputs))
            {
                using ICaptureSource source = Inputs.Open(input);
                SurveySnapshot survey = Surveyor.Run(source, host.Stop);
                host.Stop.ThrowIfCancellationRequested();
                measured.Add((input, NetworkTiming.Measure(survey, ppm)));
            }

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
}
