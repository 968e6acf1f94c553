using System.CommandLine;
using System.Globalization;

using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>timing INPUT..</c>: measured against the published limits, several inputs side by side.</summary>
internal static class TimingCommand
{
    private const string ByStartCode = "start-code";
    private const string Auto = "auto";
    private const string OneClock = "one-clock";
    private const string TwoClocks = "two-clocks";
    private const string Off = "off";
    private const int MostChannelsTold = 4;
    private const double WorstClockPpm = 100_000;

    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        LineChoice line = new();
        Option<string> against = new("--against")
        {
            HelpName = "LIMITS",
            Description = "Whose limits a line is held against: transmitter, receiver, test-packet, rdm-controller, rdm-responder; by itself start-code, those of each packet's START code.",
            DefaultValueFactory = _ => ByStartCode,
        };
        Option<double> clock = new("--clock-ppm")
        {
            HelpName = "PPM",
            Description = "Error of the recorder's clock in parts per million; it counts into every verdict.",
            DefaultValueFactory = _ => NetworkTiming.DefaultClockPpm,
        };
        Option<bool> bench = new("--bench") { Description = "A line on the bench: the whole summary in the order of the job, with what is left to record." };
        Option<string> taps = new("--taps")
        {
            HelpName = "CLOCKS",
            Description = "Inputs of which one is a network and one a line, or that are two ends of a line, are compared as two taps of one show: auto decides by content whether they have one clock; one-clock or two-clocks says it; off compares nothing.",
            DefaultValueFactory = _ => Auto,
        };
        Option<string?> report = new("--report") { HelpName = "FILE", Description = "Writes the timing record as well: one HTML page with the answer for each limit; the file must not exist. Needs inputs that are files." };
        RecordHead head = new();
        taps.AcceptOnlyFromAmong(Auto, OneClock, TwoClocks, Off);
        ProbeCommand command = new("timing", "Break, mark after break, slots, rates and silences, measured and held against the published limits.")
        {
            Examples =
            [
                ("dmxprobe timing tonight.pcapng", "one capture"),
                ("dmxprobe timing before.pcap after.pcap", "two captures side by side"),
                ("dmxprobe timing gateway.vcd --bench", "a line recording on the bench"),
                ("dmxprobe timing gateway.vcd --report gateway.html --by \"bench 2\"", "the same as a page to hand over"),
                ("dmxprobe timing network.pcap line.vcd", "both sides of a gateway: its latency, merge rule and universe"),
            ],
            ExitCodes = [(ExitCode.Clean, "no figure is outside its limits"), (ExitCode.FaultsFound, "at least one is, the reading of a line is in doubt, or an input was not read to its end"), (ExitCode.CouldNotRun, "could not run")],
            Notes =
            [
                "A network capture measures when packets arrive. Break, mark after break and bit times exist on the DMX line only: they are measured from line recordings.",
                "A figure nearer to its limit than one sample plus the clock's error is undecided, not a failure. docs/line.md has the limits and where each is from.",
            ],
        };
        LiveOptions live = new();
        command.Add(inputs);
        live.AddTo(command);
        line.AddTo(command);
        command.Add(against);
        command.Add(clock);
        command.Add(bench);
        command.Add(report);
        foreach (Option option in head.InOrder)
        {
            command.Add(option);
        }

        foreach (Option option in common.OfLines)
        {
            command.Add(option);
        }

        command.Add(taps);
        command.SetAction(parsed =>
        {
            LiveAsked asked = live.Asked(parsed, host);
            LineFileOptions files = common.Lines(parsed);
            LineOptions options = line.Of(parsed, files);
            LineRole? role = RoleOf(parsed.GetRequiredValue(against));
            double ppm = Ppm(parsed.GetValue(clock));
            string[] named = parsed.GetRequiredValue(inputs);
            Inputs.Check(named, asked);
            string? page = parsed.GetValue(report);
            if (page is not null)
            {
                TimingRecordRun.Check(named);
                host.EndsByItself();
                host.SaysOnStop(ProgramHost.NothingWritten);
            }
            else if (head.Given(parsed) is { Count: > 0 } given)
            {
                throw new UsageException($"{string.Join(" and ", given)} {(given.Count == 1 ? "is" : "are")} about the timing record, and none is asked for; add --report FILE.html");
            }

            using UnfinishedFile? record = page is null ? null : UnfinishedFile.Begin("--report", page);
            string clocks = parsed.GetRequiredValue(taps);
            bool keepsTaps = named.Length > 1 && clocks != Off;
            List<TimedInput> measured =
                [.. named.Select(input => Measure(input, asked, files, options, role, ppm, keepsTaps, host))];
            if (measured.All(input => input.Figures.Count == 0) && !named.Any(Inputs.IsLive))
            {
                throw new UsageException(measured.Find(input => input.Cut.Length > 0) is TimedInput cut
                    ? $"{cut.Input}: {cut.Cut}"
                    : measured.Find(input => input.Lines.Count > 0) is TimedInput unread
                    ? $"{unread.Input}: no DMX512 that can be measured; {string.Join(" ", unread.Lines.Take(MostChannelsTold).Select(LineText.Sentence).Concat(unread.Assumptions)).TrimEnd('.')}; check the sampling rate, the channel, the threshold and the ground"
                    : $"{string.Join(", ", named)}: no levels of Art-Net, sACN, a DMX line or a serial port, so there is nothing to measure; capture where the lighting passes");
            }

            IReadOnlyList<TapPair> pairs = keepsTaps
                ? TapPair.Among([.. measured.Select(input => input.Tap!)], clocks == Auto ? null : clocks == OneClock)
                : [];
            long octets = record is null ? 0 : new TimingRecordRun(host)
            {
                Inputs = named,
                Title = head.Title(parsed),
                Place = head.Place(parsed),
                By = head.By(parsed),
                Connected = head.Connected(parsed),
                NotTested = head.NotTested(parsed),
                Options = TimingOptionsUsed.Of(parsed, [against, clock, taps, .. line.InOrder, .. common.OfLines]),
                Command = CommandWords.WithoutFolders(parsed, named, page!),
            }.Write(record, measured, pairs);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => TimingJson.Write(stream, measured, pairs));
            }
            else
            {
                TextPage text = common.Page(parsed, host);
                if (parsed.GetValue(bench))
                {
                    BenchText.Write(text, measured);
                }
                else
                {
                    TapText.Write(text, measured, pairs);
                    TimingText.Write(text, measured, parsed.GetValue(common.All));
                }

                if (page is not null)
                {
                    text.Blank();
                    text.Paragraph($"{page}: the timing record, {Figures.Count(octets)} octets.");
                }

                text.WriteTo(host.Output);
            }

            return measured.Any(input => input.Figures.Any(TimingText.IsOutside) || TimingText.IsInDoubt(input) || input.Cut.Length > 0) ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }

    private static TimedInput Measure(
        string input,
        LiveAsked live,
        LineFileOptions files,
        LineOptions line,
        LineRole? against,
        double clockPpm,
        bool keepsTap,
        ProgramHost host)
    {
        using ICaptureSource source = Inputs.OpenApart(input, live, files);
        if (Inputs.IsLive(input))
        {
            return TimingRun.Of(input, source, line, against, clockPpm, keepsTap, CancellationToken.None);
        }

        using WaitLine wait = new(host, "timing");
        return TimingRun.Of(input, source, line, against, clockPpm, keepsTap, host.Stop, wait);
    }

    private static LineRole? RoleOf(string word)
    {
        if (word == ByStartCode)
        {
            return null;
        }

        string[] words = [.. LineTimings.Roles.Select(role => role.Word)];
        int place = Array.IndexOf(words, word);
        return place >= 0
            ? LineTimings.Roles[place].Role
            : throw new UsageException($"--against '{word}': {ByStartCode}, {string.Join(", ", words)} are known");
    }

    private static double Ppm(double given) => given is >= 0 and <= WorstClockPpm
        ? given
        : throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--clock-ppm {given}: a number from 0 to {WorstClockPpm:0} is wanted; a cheap recorder's clock is 50 to 100"));
}
