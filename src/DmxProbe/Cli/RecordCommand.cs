using System.CommandLine;
using System.Text;

using DmxProbe.Capture.Recording;

namespace DmxProbe.Cli;

/// <summary><c>record INPUT.. -o DIR</c> and <c>record mark DIR TEXT</c>.</summary>
internal static class RecordCommand
{
    /// <summary>Builds the commands.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string> folder = new("--output", "-o") { Description = "Folder to record into; made where there is none.", Required = true, HelpName = "DIR" };
        Option<string> segment = new("--segment") { Description = "Begin a new file after this time or size.", HelpName = "10min|500MB", DefaultValueFactory = _ => "" };
        Option<string> ring = new("--ring") { Description = "Keep only this much; a mark or a fault found keeps it and the minute to come.", HelpName = "15min", DefaultValueFactory = _ => "" };
        LiveOptions live = new();
        Option<bool> plain = new("--plain") { Description = "Progress as a line every 10 s instead of one that is drawn over." };
        ProbeCommand command = new("record", "Record a show: everything that comes in, in files that general capture tools open.")
        {
            Examples =
            [
                ("dmxprobe record net -o tonight", "files of 10 minutes in the folder tonight, until Ctrl-C"),
                ("dmxprobe record net -o watch --ring 15min", "the last 15 minutes, kept when something happens"),
                ("dmxprobe survey tonight", "the whole folder as one input"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "everything that came in was recorded"),
                (ExitCode.FaultsFound, "something was lost, by the source or for want of room"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes =
            [
                "While it runs in a terminal, type a text and press Enter to put a mark into the recording; Enter alone numbers it. From elsewhere: dmxprobe record mark DIR TEXT.",
                "Ctrl-C ends the recording. A killed process or a power cut costs at most the last second.",
            ],
        };
        command.Add(inputs);
        command.Add(folder);
        command.Add(segment);
        command.Add(ring);
        live.AddTo(command);
        command.Add(plain);
        command.Add(Mark(common, host));
        command.Add(PackCommand.Create(common, host));
        command.SetAction(parsed =>
        {
            string ringText = parsed.GetValue(ring)!;
            string segmentText = parsed.GetValue(segment)!;
            RecordRun run = new(host, common, parsed)
            {
                Inputs = parsed.GetRequiredValue(inputs),
                Folder = parsed.GetRequiredValue(folder),
                Ring = ringText.Length > 0 ? Amounts.Time("--ring", ringText) : null,
                Live = live.Asked(parsed, host),
                Segment = segmentText.Length > 0 ? Amounts.TimeOrSize("--segment", segmentText) : null,
                Plain = parsed.GetValue(plain),
            };
            return run.Run();
        });
        return command;
    }

    private static ProbeCommand Mark(CommonOptions common, ProgramHost host)
    {
        Argument<string> folder = new("DIR") { Description = "The folder that is being recorded into." };
        Argument<string> text = new("TEXT") { Description = "What happened; at most 1,024 octets of UTF-8." };
        ProbeCommand command = new("mark", "Put a mark into a recording that runs in another window or was started by another program.")
        {
            Examples = [("dmxprobe record mark tonight \"LX1-6 flickers\"", "marks this moment")],
            ExitCodes = [(ExitCode.Clean, "marked, or left for the recorder"), (ExitCode.CouldNotRun, "could not run")],
        };
        command.Add(folder);
        command.Add(text);
        command.SetAction(parsed =>
        {
            string place = parsed.GetRequiredValue(folder);
            string mark = parsed.GetRequiredValue(text);
            if (string.IsNullOrWhiteSpace(mark))
            {
                throw new UsageException("a mark needs a text that says what happened; found nothing but spaces");
            }

            int octets = Encoding.UTF8.GetByteCount(mark);
            if (octets > MarkSpool.LongestMark)
            {
                throw new UsageException($"a mark is at most {MarkSpool.LongestMark:N0} octets long and this one has {octets:N0}; shorten it");
            }

            if (!Directory.Exists(place))
            {
                throw new UsageException($"{place}: there is no such folder; name the folder after -o of the recording");
            }

            string file;
            try
            {
                file = MarkSpool.Leave(place, mark, host.Clock.Now());
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                throw new UsageException($"{place}: the mark could not be left in this folder ({failure.Message}); mark at the keyboard of the recorder instead");
            }

            Text.TextPage page = common.Page(parsed, host);
            page.Paragraph(IsTaken(file, host)
                ? "Marked."
                : $"Nothing seems to record into {place} now: the mark is left there, and the next recording into it takes it in.");
            page.WriteTo(host.Output);
            return ExitCode.Clean;
        });
        return command;
    }

    // The recorder deletes the file once the mark is safe on the disk.
    private static bool IsTaken(string file, ProgramHost host)
    {
        const int Looks = 30;
        for (int look = 0; look < Looks && !host.Stop.IsCancellationRequested; look++)
        {
            if (!File.Exists(file))
            {
                return true;
            }

            host.Stop.WaitHandle.WaitOne(TimeSpan.FromMilliseconds(100));
        }

        return false;
    }
}
