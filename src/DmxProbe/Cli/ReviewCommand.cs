using System.CommandLine;

using DmxProbe.Analysis.Index;
using DmxProbe.Capture.Recording;
using DmxProbe.Cli.Ask;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;
using DmxProbe.Tui;

namespace DmxProbe.Cli;

/// <summary><c>review RECORDING</c>: any slot of any universe at any time of a recording.</summary>
internal static class ReviewCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string> input = new("RECORDING") { Description = "A folder that was recorded into, or a capture file." };
        Option<string?> universe = new("--universe") { HelpName = "sacn:2", Description = "The universe: sacn:2, artnet:0, line:A; a number alone where it can be one only. Without it the universes are listed." };
        Option<int?> slot = new("--slot") { HelpName = "N", Description = "The slot, 1 to 512. Without --at: its history." };
        Option<string?> at = new("--at") { HelpName = "TIME", Description = "The moment: seconds from the first level (12.5), a time of day (19:41:07), ISO 8601, a mark by number or words (mark:2, mark:strobe), or the look of a cue (cue:14)." };
        Option<string?> from = new("--from") { HelpName = "TIME", Description = "Start of a slot's history; by itself the start of the recording." };
        Option<string?> to = new("--to") { HelpName = "TIME", Description = "End of a slot's history; by itself the end of the recording." };
        Option<bool> moments = new("--moments") { Description = "List the marks, and the cues that the wire shows, with their times; reads the whole recording once." };
        Option<string?> patch = new("--patch") { HelpName = "SHEET", Description = "The patch sheet: levels are told by unit and function; on the screen it shows whose slots are where." };
        Option<string?> unit = new("--unit") { HelpName = "NAME", Description = "A unit of the sheet instead of --universe and --slot: its levels at a moment, or without --at its history." };
        Option<string?> map = SheetOptions.Map();
        Option<string?> log = AskOptions.ScreenLog();
        SheetFlags sheets = new();
        ProbeCommand command = new("review", "A recording on the screen, with a time line; or any slot of any universe at any time of it, as text.")
        {
            Examples =
            [
                ("dmxprobe review tonight --patch patch.csv", "on the screen; without a terminal: which universes and senders are in it"),
                ("dmxprobe review tonight --at 19:41:07", "on the screen, from that moment on"),
                ("dmxprobe review tonight --universe sacn:2 --at 19:41:07", "all slots of a universe at a moment, by sender"),
                ("dmxprobe review tonight --patch patch.csv --unit LX1-6 --at cue:14", "what a unit was told in the look of a cue"),
                ("dmxprobe review tonight --moments", "marks and cues, to name a moment by"),
                ("dmxprobe review tonight --universe sacn:2 --slot 61 --at 19:41:07", "one slot at a moment, and since when it stood there"),
                ("dmxprobe review tonight --universe sacn:2 --slot 61 --from 19:40 --to 19:45", "every change of a slot over a span"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "answered"),
                (ExitCode.FaultsFound, "nobody sent the universe then, or the recording was not read to its end"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes =
            [
                "The first question to a folder writes a review file beside each segment, which takes as long as reading it; every further one takes milliseconds. A review file that is missing or not true is made again. This goes for any folder of captures that is named, which also gets an .index beside each (as with survey); where it may not be written to, and for a single file, they are temporary.",
                "Keys on the screen, guided: D on a unit asks what a light that does not follow is really reading, C goes through the function check; --log keeps the answers, and locate --log and walk --notes go on from them.",
                "Keys on the screen: Space plays and stops, Left and Right a second, comma and full stop the change before and after in what is looked at, M the next mark, W the next fault, A and B set points and play goes round between them, J a time, + and - the speed, Home and End; the others as in watch.",
                "A cue is a time in which levels moved, with 0.7 s of rest before and behind it; its number counts them from the start of the recording, and is no cue number of a controller. mark: and cue: read the whole recording once.",
                "A sender is listed while its last frame is less than 12 s old: longer than any protocol waits for a sender.",
            ],
        };
        command.Add(input);
        foreach (Option option in new Option[] { universe, slot, at, from, to, moments, patch, unit, map, log })
        {
            command.Add(option);
        }

        sheets.AddTo(command);

        command.SetAction(parsed =>
        {
            TimeZoneInfo zone = common.Zone(parsed, host);
            int? number = parsed.GetValue(slot);
            if (number is < 1 or > 512)
            {
                throw new UsageException($"--slot: expected 1 to 512, found {number}");
            }

            string name = parsed.GetRequiredValue(input);
            string? sheet = parsed.GetValue(patch);
            if (sheet is null && (parsed.GetValue(map) ?? parsed.GetValue(unit)) is not null)
            {
                throw new UsageException($"{(parsed.GetValue(map) is null ? "--unit names a unit of a sheet" : "--map says which universe of the sheet is which")}, and no sheet is given; add --patch SHEET");
            }

            bool isListed = parsed.GetValue(moments);
            if (isListed && new[] { parsed.GetValue(universe), parsed.GetValue(at), parsed.GetValue(from), parsed.GetValue(to), parsed.GetValue(unit) }.Any(each => each is not null))
            {
                throw new UsageException("--moments lists marks and cues and takes no question beside it; leave the other options out");
            }

            SheetInUse? inUse = sheet is null ? null : sheets.Open(parsed, sheet);
            ScreenSheet screenSheet = new(inUse, parsed.GetValue(map));
            RecordedMoments? known = null;
            AskedTime? Asked(Option<string?> option)
            {
                if (parsed.GetValue(option) is not string text)
                {
                    return null;
                }

                return RecordedMoments.IsAsked(text)
                    ? AskedTime.Of((known ??= ReadMoments(name, host)).Find(text, option.Name), zone)
                    : AskedTime.Parse(text, zone, option.Name, "the first level", ", mark:NAME or cue:NAME");
            }

            if (parsed.GetValue(at) is not null && (parsed.GetValue(from) ?? parsed.GetValue(to)) is not null)
            {
                throw new UsageException("--at asks for a moment and --from, --to for a span; give the one or the other");
            }

            (AskedTime? moment, AskedTime? start, AskedTime? end) = (Asked(at), Asked(from), Asked(to));
            if (!isListed && ReviewScreen.IsAsked(parsed.GetValue(common.Json), host, [parsed.GetValue(universe), parsed.GetValue(from), parsed.GetValue(to), parsed.GetValue(unit)], number))
            {
                AskLog? kept = AskOptions.Kept(parsed.GetValue(log), sheet, host);
                return ReviewScreen.Show(name, host, screenSheet, zone, moment, host.Color && !parsed.GetValue(common.NoColor), inUse, kept);
            }

            RecordedMoments? listed = isListed ? ReadMoments(name, host) : null;
            using ReviewIndex index = Open(name, host, out IReadOnlyList<string> notes);
            ReviewSheet units = new(screenSheet, index.Streams.Select(stream => stream.Universe).Distinct());
            ReviewRun run = ReviewRun.Of(index, name, parsed.GetValue(universe), number, parsed.GetValue(unit), units, moment, start, end);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => ReviewJson.Write(
                    stream,
                    name,
                    run.Index.Streams,
                    [.. notes, .. run.Index.Problems.Select(problem => $"{name} ends early: {problem}")],
                    new ReviewAnswer(run.First, run.Last, run.Index.PartsMade, run.Universe, run.Slot, run.At, run.From, run.To, run.Levels, run.History),
                    listed?.Marks,
                    listed?.Cues));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                if (listed is null)
                {
                    ReviewText.Write(page, name, run, units, notes, parsed.GetValue(common.All), zone);
                }
                else
                {
                    MomentsText.Write(page, name, run, listed, parsed.GetValue(common.All), zone);
                }

                page.WriteTo(host.Output);
            }

            return run.ExitCode;
        });
        return command;
    }

    private static RecordedMoments ReadMoments(string name, ProgramHost host)
    {
        RefuseLive(name);
        return RecordedMoments.Read(name, host);
    }

    private static void RefuseLive(string name)
    {
        if (name == "-" || Inputs.IsLive(name))
        {
            throw new UsageException($"'{name}' can be heard once only, and this command looks up any moment; record it first, then name the folder");
        }
    }

    /// <summary>Opens a recording, and says how far the making of its review files has come where there are several.</summary>
    /// <param name="name">The folder or file.</param>
    /// <param name="host">The process.</param>
    /// <param name="notes">What the folder says about its runs.</param>
    /// <exception cref="UsageException">It is live, or can be read once only.</exception>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public static ReviewIndex Open(string name, ProgramHost host, out IReadOnlyList<string> notes)
    {
        RefuseLive(name);

        // One file is made in seconds; a folder of hours is worth a word.
        bool told = false;
        RecordedParts parts = RecordedParts.Open(name);
        notes = parts.Notes;
        ReviewIndex index = ReviewIndex.Open(parts, Tell, host.Stop);
        if (told && host.IsTerminal)
        {
            host.Error.WriteLine();
        }

        return index;

        void Tell(ReviewProgress progress)
        {
            if (progress.Of > 1 && host.IsTerminal)
            {
                told = true;
                host.Error.Write($"\rreview files made: {progress.Made} of {progress.Of}");
                host.Error.Flush();
            }
        }
    }
}
