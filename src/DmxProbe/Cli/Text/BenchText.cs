using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;

namespace DmxProbe.Cli.Text;

/// <summary>
/// A controller or gateway on the bench, in the order of the job: how it was recorded, what is still to be recorded, the
/// figures, the verdicts, what a gateway needs besides, what a serial input cannot tell.
/// </summary>
internal static class BenchText
{
    private const int EnoughPackets = 300;
    private const double WantedResolution = 0.25;
    private static readonly HashSet<int> FigureColumns = [1, 2, 3, 4, 5, 6, 7];

    private static readonly string[] Cautions =
    [
        "The recorder's receiver only listens: never connect a driver to the line, and check that no other sender is on it.",
        "Check the lead for phantom power before the recorder goes on it: a microphone lead with 48 V destroys receivers.",
        "Common of the recorder to pin 1 only, never to the case; do not open mains equipment.",
    ];

    /// <summary>What a full bench records.</summary>
    public static readonly string[] ToRecord =
    [
        "standing levels", "every slot changing in every packet", "24, 128 and 512 slots, where they can be set", "every rate setting",
        "RDM on and off", "start-up", "the input cable pulled", "the source lost", "two sources",
    ];

    /// <summary>Writes the page.</summary>
    public static void Write(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        List<TimingMeasurement> figures = [.. inputs.SelectMany(input => input.Figures)];
        List<TimingMeasurement> outside = [.. figures.Where(TimingText.IsOutside)];
        TimingText.Doubts(page, inputs);
        int undecided = figures.Count(figure => figure.Verdict == LimitVerdict.Undecided);
        int held = figures.Count(figure => figure.Verdict != LimitVerdict.NotMeasurable && (figure.Transmit ?? figure.Receive) is not null);
        string open = undecided == 0 ? "." : $"; {undecided} of {Figures.Count(held, "verdict")} {(undecided == 1 ? "is" : "are")} undecided.";
        page.Paragraph(
            outside.Count == 0
                ? (undecided > 0 && undecided == held ? $"Bench: nothing is decided ({Figures.Count(held, "verdict")})." : "Bench: no figure is outside its limits" + open)
                : "Bench: " + string.Join(" ", outside.Select(Sentence)) + (undecided == 0 ? "" : $" {undecided} of {Figures.Count(held, "verdict")} {(undecided == 1 ? "is" : "are")} undecided."),
            tone: outside.Count == 0 ? Tone.Plain : Tone.Fault);
        Recorder(page, inputs);
        Recordings(page, inputs);
        Measured(page, inputs);
        Verdicts(page, figures);
        Gateway(page, inputs);
        page.Blank();
        page.Heading("Mind");
        foreach (string caution in Cautions)
        {
            page.Paragraph(caution, indent: 2);
        }
    }

    private static string Sentence(TimingMeasurement figure) => figure.Packets is null
        ? $"{figure.Subject}: {TimingText.QuantityWords(figure.Quantity)} is outside its limits."
        : LineAnswer.Of(figure, TimingText.QuantityWords(figure.Quantity));

    private static void Recorder(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        page.Blank();
        page.Heading("1. Recorder");
        foreach (TimedInput input in inputs)
        {
            foreach (LineChannelSummary channel in input.Lines)
            {
                page.Paragraph($"{input.Input}: {LineText.Sentence(channel)}", indent: 2);
                if (channel.Line is not null && channel.Resolution.TotalMicroseconds > WantedResolution)
                {
                    page.Paragraph("Sampled more coarsely than the 4 MHz wanted on a bench: limits within a sample stay undecided.", indent: 4);
                }
            }

            foreach (string assumption in input.Assumptions)
            {
                page.Paragraph(assumption, indent: 2);
            }

            page.Paragraph($"Clock error allowed for: {Figures.Number(input.ClockPpm)} ppm (--clock-ppm).", indent: 2);
            if (input.Cut.Length > 0)
            {
                page.Paragraph($"{input.Input} ends early: {input.Cut}", indent: 2);
            }
        }
    }

    private static void Recordings(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        page.Blank();
        page.Heading("2. Recordings");
        page.Paragraph(
            $"Given: {Figures.Count(inputs.Count, "recording")}. A full bench has 10 s of each: {string.Join("; ", ToRecord)}.", indent: 2);
    }

    private static void Measured(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        page.Blank();
        page.Heading("3. Figures");
        foreach (TimedInput input in inputs)
        {
            foreach (IGrouping<(string Subject, int StartCode, string Role), TimingMeasurement> group in input.Figures
                .Where(figure => figure.Protocol == UniverseProtocol.Line && figure.Verdict != LimitVerdict.NotMeasurable)
                .GroupBy(figure => (figure.Subject, figure.StartCode, figure.Role)))
            {
                page.Paragraph(
                    $"{input.Input}, {group.Key.Subject}, START code {group.Key.StartCode:X2}h, limits of: {group.Key.Role}", indent: 2);
                page.Table(
                    ["quantity", "least", "p5", "median", "p95", "most", "s.d.", "count", "send", "accept"],
                    FigureColumns,
                    group.Select(figure => new[]
                    {
                        $"{TimingText.QuantityWords(figure.Quantity)}, {figure.Unit}",
                        Number(figure.Min),
                        Number(figure.P5),
                        Number(figure.Median),
                        Number(figure.P95),
                        Number(figure.Max),
                        Number(figure.Deviation),
                        Figures.Count(figure.Count),
                        TimingText.Limit(figure.Transmit, figure.Unit),
                        TimingText.Limit(figure.Receive, figure.Unit),
                    }),
                    indent: 4);
            }
        }
    }

    private static string Number(double? value) => Figures.Number(value);

    private static void Verdicts(TextPage page, List<TimingMeasurement> figures)
    {
        page.Blank();
        page.Heading("4. Verdicts");
        foreach (TimingMeasurement figure in figures.Where(figure => figure.Protocol == UniverseProtocol.Line && figure.Packets is not null))
        {
            string packets = figure.Packets is { } counts && counts.Inside < counts.All
                ? $" ({Figures.Count(counts.Inside)} inside, {Figures.Count(counts.OutsideTransmit)} outside transmit, {Figures.Count(counts.OutsideReceive)} outside receive, {Figures.Count(counts.Undecided)} undecided)"
                : "";
            string few = figure.Verdict == LimitVerdict.Inside && figure.Count < EnoughPackets
                ? $"; up to {Percent(LimitRule.UnseenShare(figure.Count))} may still lie outside unseen (rule of three, if packets vary independently)"
                : "";
            string against = figure.UndecidedAgainst.Length > 0 ? $", {figure.UndecidedAgainst}" : "";
            page.Paragraph(
                $"{figure.Subject}, {figure.StartCode:X2}h, {TimingText.QuantityWords(figure.Quantity)}: {TimingText.ShortVerdict(figure.Verdict, limited: true)}{against}{packets}{few}",
                indent: 2);
        }

        foreach (string source in figures
            .Where(figure => figure.Protocol == UniverseProtocol.Line)
            .SelectMany(figure => new[] { figure.Transmit?.Source, figure.Receive?.Source })
            .OfType<string>()
            .Distinct())
        {
            page.Paragraph("Limits: " + source + ".", indent: 2);
        }
    }

    private static string Percent(double share) => Figures.Number(share * 100) + " %";

    private static void Gateway(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        page.Blank();
        page.Heading("5. A gateway besides");
        page.Paragraph(
            "Delay from network to line, rate conversion, merge rule and what it does after a loss need its network input recorded at the same time.",
            indent: 2);
        page.Blank();
        page.Heading("6. Serial inputs");
        page.Paragraph(
            inputs.Any(input => input.Figures.Any(figure => figure.MeasuredAt is "uart" or "usb"))
                ? "Break, mark after break and bit times of the serial inputs here were not measured: a port does not show them."
                : "None given. A USB serial interface tells rate, slot count and START codes; break and mark after break it does not measure.",
            indent: 2);
    }
}
