using System.CommandLine;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>explain INPUT</c>: what a unit should be doing, and why.</summary>
internal static class ExplainCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string?> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet." };
        Option<string?> unit = new("--unit") { HelpName = "UNIT", Description = "The unit, as the sheet names it; of two units of one name, NAME line N." };
        Option<string?> slot = new("--slot") { HelpName = "sacn:2.16", Description = "Instead of a unit: who decides this slot, and who moved it last; artnet:0.16, line:A.16, or 1.016 by the sheet's numbers. Several with commas, ranges as sacn:2.1-4." };
        Option<string?> at = new("--at") { HelpName = "TIME", Description = "When: seconds from the first record (12.5), a time of day (19:41:07) or ISO 8601; by itself the end of the capture. Several with commas for --slot." };
        Option<int?> faders = new("--faders-per-page") { HelpName = "N", Description = "Also name page and fader of each slot, for a controller with N faders on a page." };
        Option<string?> map = SheetOptions.Map();
        SheetFlags sheets = new();
        ProbeCommand command = new("explain", "What a unit should be doing at a time, slot by slot, and why it is dark, still or flashing; or who decides one slot.")
        {
            Examples =
            [
                ("dmxprobe explain tonight.pcapng --patch patch.csv --unit LX1-6", "at the end of the capture"),
                ("dmxprobe explain net --for 5s --patch patch.csv --unit LX1-6", "now, from the network"),
                ("dmxprobe explain tonight.pcapng --patch patch.csv --unit LX1-6 --at 19:41:07 --faders-per-page 12", "at a time, with the faders of a small controller"),
                ("dmxprobe explain tonight.pcapng --slot sacn:2.16 --at 19:44:10", "who moved slot 16 of sACN 2?"),
                ("dmxprobe explain tonight.pcapng --slot sacn:2.1-4,artnet:0.16 --at 2.5,7.5,12", "a table: time, slot, level, winner, reason"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "explained: somebody sends the unit its slots"),
                (ExitCode.FaultsFound, "nobody sends them, or several senders decide together and do not agree, or receivers differ, or an input was not read to its end"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes = ["This is what the unit is told, not what it does: a light that differs has another address or mode (locate), or a fault of its own."],
        };
        command.Add(inputs);
        foreach (Option option in new Option[] { sheet, unit, slot, at, faders, map })
        {
            command.Add(option);
        }

        LiveOptions live = new();
        live.AddTo(command);
        sheets.AddTo(command);
        command.SetAction(parsed =>
        {
            int? perPage = parsed.GetValue(faders);
            if (perPage is < 1 or > 512)
            {
                throw new UsageException($"--faders-per-page: expected 1 to 512, found {perPage}");
            }

            TimeZoneInfo zone = common.Zone(parsed, host);
            AskedTime[] moments = parsed.GetValue(at) is string text ? [.. text.Split(',').Select(each => AskedTime.Parse(each, zone, "--at"))] : [];
            AskedTime? asked = moments.FirstOrDefault();
            string[] names = parsed.GetRequiredValue(inputs);
            if (parsed.GetValue(slot) is string place)
            {
                return parsed.GetValue(unit) is null
                    ? OfSlots(SlotPlace.ParseList(place), parsed.GetValue(sheet) is string its ? sheets.Open(parsed, its) : null)
                    : throw new UsageException("--unit and --slot ask two different things; give one of them");
            }

            if (parsed.GetValue(sheet) is not string path || parsed.GetValue(unit) is not string name)
            {
                throw new UsageException("explain needs a unit of a sheet, --patch SHEET --unit UNIT, or a slot, --slot sacn:2.16");
            }

            if (moments.Length > 1)
            {
                throw new UsageException("--at: expected one time with --unit, found several; several serve --slot");
            }

            SheetInUse inUse = sheets.Open(parsed, path);
            using ICaptureSource source = Inputs.OpenMerged(names, live.Asked(parsed, host, inUse.Patch.Universes));
            CancellationToken stop = names.Any(Inputs.IsLive) ? CancellationToken.None : host.Stop;
            ExplainRun run = ExplainRun.Of(source, inUse, name, parsed.GetValue(map), asked, stop);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => ExplainJson.Write(stream, run.Explanation, perPage));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                ExplainText.Write(page, run, inUse.Recognition, perPage, new WallClock(zone, run.Survey.First, run.Survey.Last));
                page.WriteTo(host.Output);
            }

            return run.ExitCode;

            int OfSlots(IReadOnlyList<SlotPlace> asks, SheetInUse? its)
            {
                int[] joins = [.. asks.Where(each => each.Wire is not { Protocol: UniverseProtocol.ArtNet }).Select(each => each.Number).Distinct()];
                using ICaptureSource opened = Inputs.OpenMerged(names, live.Asked(parsed, host, joins));
                CancellationToken until = names.Any(Inputs.IsLive) ? CancellationToken.None : host.Stop;
                return asks.Count == 1 && asks[0].Count == 1 && moments.Length < 2
                    ? OfSlot(opened, asks[0], its, until)
                    : OfTable(SlotTableRun.Of(opened, asks, its, parsed.GetValue(map), moments, until));
            }

            int OfTable(SlotTableRun found)
            {
                if (parsed.GetValue(common.Json))
                {
                    SlotNarrator narrator = Plain(found.Senders);
                    JsonOutput.Write(host, stream => SlotTableJson.Write(stream, found.Answers, found.Unanswered, found.Senders, narrator.Sentence));
                }
                else
                {
                    TextPage page = common.Page(parsed, host);
                    SlotTableText.Write(page, found, new WallClock(zone, found.Survey.First, found.Survey.Last));
                    page.WriteTo(host.Output);
                }

                return found.ExitCode;
            }

            int OfSlot(ICaptureSource opened, SlotPlace asks, SheetInUse? its, CancellationToken until)
            {
                SlotRun found = SlotRun.Of(opened, asks, its, parsed.GetValue(map), asked, until);
                if (parsed.GetValue(common.Json))
                {
                    SlotNarrator narrator = Plain(found.Senders);
                    JsonOutput.Write(host, stream => SlotJson.Write(
                        stream, found.Universe, found.Slot, found.At, found.Answer, found.Senders, found.Answer is null ? "nobody sends it" : narrator.Sentence(found.Answer)));
                }
                else
                {
                    TextPage page = common.Page(parsed, host);
                    SlotText.Write(page, found, new WallClock(zone, found.Survey.First, found.Survey.Last));
                    page.WriteTo(host.Output);
                }

                return found.ExitCode;
            }
        });
        return command;
    }

    private static SlotNarrator Plain(IReadOnlyDictionary<int, SenderSummary> senders) =>
        new(sender => senders[sender] is { Name.Length: > 0 } told ? $"'{told.Name}'" : senders[sender].Address, moment => moment.ToString());
}
