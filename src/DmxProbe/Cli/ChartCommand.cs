using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>chart show FILE</c>: what a chart says and what the program makes of it.</summary>
internal static class ChartCommand
{
    private const string Csv = "csv";

    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string> file = new("FILE")
        {
            Description = "The chart, named after the type: CSV with the columns mode,slot,function,from,to,meaning, GDTF, open fixture data (JSON); or an MVR file with its charts.",
            Arity = ArgumentArity.ExactlyOne,
        };
        Option<string?> form = new("--as") { HelpName = Csv, Description = "Write the chart as CSV, to be corrected and kept as TYPE.csv." };
        form.AcceptOnlyFromAmong(Csv);
        Option<string?> type = new("--type") { HelpName = "TYPE", Description = "Which chart of an MVR file." };
        ProbeCommand show = new("show", "A DMX chart, mode by mode and slot by slot, with what each range of values is taken to do.")
        {
            Examples =
            [
                ("dmxprobe chart show charts/led-wash.csv", "one chart"),
                ("dmxprobe chart show spot.gdtf --as csv > charts/spot.csv", "a chart to correct by hand"),
                ("dmxprobe chart show hall.mvr --type led-wash", "one of the charts in an MVR file"),
            ],
            ExitCodes = [(ExitCode.Clean, "the chart is whole"), (ExitCode.CouldNotRun, "it could not be read, or has gaps or overlaps")],
        };
        show.Add(file);
        show.Add(form);
        show.Add(type);
        show.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(file);
            ChartsReading reading = Sheets.ChartsIn(path);
            IReadOnlyList<Chart> charts = Chosen(path, reading.Charts, parsed.GetValue(type));
            if (parsed.GetValue(common.Json))
            {
                Chart chart = Single(path, charts);
                JsonOutput.Write(host, stream => ChartJson.Write(stream, chart, reading.Notes));
            }
            else if (parsed.GetValue(form) is not null)
            {
                using StringWriter csv = new();
                ChartWriter.Write(csv, Single(path, charts));
                Print(host, csv.ToString());
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                ChartText.Write(page, charts, reading.Notes);
                page.WriteTo(host.Output);
            }

            return ExitCode.Clean;
        });
        ProbeCommand group = new("chart", "A fixture's DMX chart.");
        group.Add(show);
        return group;
    }

    private static IReadOnlyList<Chart> Chosen(string path, IReadOnlyList<Chart> charts, string? type)
    {
        if (type is null)
        {
            return charts;
        }

        return charts.FirstOrDefault(chart => chart.Type.Equals(type, StringComparison.OrdinalIgnoreCase)) is { } chosen
            ? [chosen]
            : throw new UsageException($"{path}: there is no chart of '{type}' in it; there are {Names(charts)}");
    }

    private static Chart Single(string path, IReadOnlyList<Chart> charts) => charts.Count == 1
        ? charts[0]
        : throw new UsageException($"{path}: it holds {charts.Count} charts and this form takes one; add --type with one of {Names(charts)}");

    private static string Names(IReadOnlyList<Chart> charts)
    {
        const int Most = 10;
        return string.Join(", ", charts.Take(Most).Select(chart => $"'{chart.Type}'")) + (charts.Count > Most ? " ..." : "");
    }

    private static void Print(ProgramHost host, string text)
    {
        try
        {
            host.Output.Write(text);
            host.Output.Flush();
        }
        catch (IOException closed)
        {
            throw new OutputClosedException(closed);
        }
    }
}
