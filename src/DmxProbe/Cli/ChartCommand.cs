using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>chart show FILE</c>: what a chart says and what the program makes of it.</summary>
internal static class ChartCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string> file = new("FILE") { Description = "The chart: CSV with the columns mode,slot,function,from,to,meaning; named after the type.", Arity = ArgumentArity.ExactlyOne };
        ProbeCommand show = new("show", "A DMX chart, mode by mode and slot by slot, with what each range of values is taken to do.")
        {
            Examples = [("dmxprobe chart show charts/led-wash.csv", "one chart")],
            ExitCodes = [(ExitCode.Clean, "the chart is whole"), (ExitCode.CouldNotRun, "it could not be read, or has gaps or overlaps")],
        };
        show.Add(file);
        show.SetAction(parsed =>
        {
            Chart chart = Sheets.Chart(parsed.GetRequiredValue(file));
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => ChartJson.Write(stream, chart));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                ChartText.Write(page, chart);
                page.WriteTo(host.Output);
            }

            return ExitCode.Clean;
        });
        ProbeCommand group = new("chart", "A fixture's DMX chart.");
        group.Add(show);
        return group;
    }
}
