using System.CommandLine;

using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Cli.Text;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>compare A B</c>: tonight against last night, or two taps of the same moment.</summary>
internal static class CompareCommand
{
    private const int MostInJson = 20;
    private const string Auto = "auto";
    private const string Nights = "nights";
    private const string Taps = "taps";
    private const string OneClock = "one-clock";
    private const string TwoClocks = "two-clocks";

    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string> first = new("A") { Description = "Last night, or the tap before the link: a capture file, a folder that was recorded into, a line recording, or a live input (net, nic:NAME, framed:PORT, uart:PORT)." };
        Argument<string> second = new("B") { Description = "Tonight, or the tap behind the link." };
        Option<string> kind = new("--as")
        {
            HelpName = "nights|taps",
            Description = "nights: two nights of one show, aligned cue by cue; taps: one moment in two places. auto takes recordings whose times overlap, and line recordings without a date, for taps.",
            DefaultValueFactory = _ => Auto,
        };
        kind.AcceptOnlyFromAmong(Auto, Nights, Taps);
        Option<string> clocks = new("--clocks") { HelpName = "CLOCKS", Description = "Whether two taps have one clock: one-clock, two-clocks; auto decides by the offset found.", DefaultValueFactory = _ => Auto };
        clocks.AcceptOnlyFromAmong(Auto, OneClock, TwoClocks);
        Option<string?> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet: differences of two nights are then told by unit." };
        Option<string?> map = SheetOptions.Map();
        SheetFlags sheets = new();
        ProbeCommand command = new("compare", "Tonight against last night, cue by cue; or two taps of one moment: latency, freezes, missing frames, slots that differ.")
        {
            Examples =
            [
                ("dmxprobe compare friday saturday --patch patch.csv", "what is other than last night, by unit and cue"),
                ("dmxprobe compare friday net --for 2h --patch patch.csv", "the same against the show that runs now"),
                ("dmxprobe compare net.pcapng receiver.vcd", "what goes into a wireless link and what comes out"),
                ("dmxprobe compare net uart:/dev/ttyUSB0 --for 60s", "the same, live"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "nothing differs"),
                (ExitCode.FaultsFound, "something differs, froze, or came out otherwise than it went in, or an input was not read to its end"),
                (ExitCode.CouldNotRun, "could not run, or no levels could be compared"),
            ],
            Notes =
            [
                "Nights are aligned by what the cues do, not by the clock: an operator who is early or late makes no difference. Effects that run on and on are left out. Levels are told from 3 of 255 on, where the look stood for 2 s both nights.",
                "A freeze shows only while levels change. timing A B names the merge rule of a gateway and what it does when its senders stop.",
            ],
        };
        command.Add(first);
        command.Add(second);
        foreach (Option option in new Option[] { kind, sheet, map, clocks })
        {
            command.Add(option);
        }

        LiveOptions live = new();
        live.AddTo(command);
        sheets.AddTo(command);
        foreach (Option option in common.OfLines)
        {
            command.Add(option);
        }

        command.SetAction(parsed =>
        {
            string clock = parsed.GetRequiredValue(clocks);
            SheetInUse? inUse = parsed.GetValue(sheet) is string path ? sheets.Open(parsed, path) : null;
            if (inUse is null && parsed.GetValue(map) is not null)
            {
                throw new UsageException("--map says which universe of the wire each universe of a sheet is, and no sheet is given; add --patch");
            }

            LiveAsked asked = live.Asked(parsed, host, inUse?.Patch.Universes);
            Inputs.Check([parsed.GetRequiredValue(first), parsed.GetRequiredValue(second)], asked);
            CompareRun run = CompareRun.Of(
                parsed.GetRequiredValue(first),
                parsed.GetRequiredValue(second),
                asked,
                common.Lines(parsed),
                parsed.GetRequiredValue(kind) switch
                {
                    Nights => true,
                    Taps => false,
                    _ => null,
                },
                clock == Auto ? null : clock == OneClock,
                inUse,
                parsed.GetValue(map),
                host.Stop);
            bool all = parsed.GetValue(common.All);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => CompareJson.Write(
                    stream,
                    [.. run.Sides.Select(side => new ComparedInput(side.Name, side.Records, side.First, side.Last))],
                    run.Because,
                    [.. run.Warnings, .. run.Sides.SelectMany(side => side.Cuts)],
                    run.Nights,
                    run.Links,
                    all ? int.MaxValue : MostInJson));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                if (run.Nights is NightComparison nights)
                {
                    NightText.Write(page, run, nights, all, common.Zone(parsed, host));
                }
                else
                {
                    LinkText.Write(page, run, all, common.Zone(parsed, host));
                }

                page.WriteTo(host.Output);
            }

            return run.ExitCode;
        });
        return command;
    }
}
