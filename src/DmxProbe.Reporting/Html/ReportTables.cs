using System.Globalization;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>The tables of a report.</summary>
internal static class ReportTables
{
    private const int MostUniverses = 400;
    private static readonly HashSet<int> UniverseFigures = [3, 4, 5, 6];
    private static readonly HashSet<int> TimingFigures = [2, 3, 4, 5, 7];
    private static readonly HashSet<int> FileHashes = [3];
    private static readonly HashSet<int> FileFigures = [2];

    /// <summary>Every sender on every universe.</summary>
    public static void Universes(HtmlWriter html, SurveySnapshot survey)
    {
        HtmlParts.Table(
            html,
            "Universes and senders",
            ["universe", "sender", "priority", "frames", "mean rate", "missing", "slots"],
            survey.Universes.Take(MostUniverses).SelectMany(universe => universe.Streams.Select(stream => (IReadOnlyList<string>)
            [
                universe.Id.Label,
                Who(stream.Sender),
                stream.Priorities.Count == 0 || universe.Id.Protocol != Analysis.Decoding.UniverseProtocol.Sacn ? Figures.None : string.Join(", ", stream.Priorities.Select(span => span.Value).Distinct()),
                Figures.Count(stream.Frames),
                Figures.Rate(stream.RateHz),
                stream.Sequence.Counted == 0 ? "not counted" : Figures.Count(stream.Sequence.Lost),
                string.Join(", ", stream.SlotCounts.Take(4).Select(count => count.Value)),
            ])),
            UniverseFigures);
        if (survey.Universes.Count > MostUniverses)
        {
            HtmlParts.Paragraph(html, $"and {Figures.Count(survey.Universes.Count - MostUniverses, "more universe")}: the command survey --all lists them.");
        }
    }

    /// <summary>Every timing figure with its limits and verdict.</summary>
    public static void Timing(HtmlWriter html, TimedInput input)
    {
        HtmlParts.Table(
            html,
            "Timing of " + input.Input,
            ["what", "quantity", "least", "median", "most", "count", "limit to send", "margin", "verdict", "measured at, resolution"],
            input.Figures.Where(figure => figure.Verdict != LimitVerdict.NotMeasurable).Select(figure => (IReadOnlyList<string>)
            [
                figure.Subject + (figure.StartCode == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $", START code {figure.StartCode:X2}h")),
                $"{LineTimings.Words(figure.Quantity)}, {figure.Unit}",
                TimingWords.Number(figure.Min, figure.Unit),
                TimingWords.Number(figure.Median, figure.Unit),
                TimingWords.Number(figure.Max, figure.Unit),
                Figures.Count(figure.Count),
                TimingWords.Limit(figure.Transmit ?? figure.Receive, figure.Unit),
                TimingWords.Margin(figure),
                TimingWords.ShortVerdict(figure.Verdict, (figure.Transmit ?? figure.Receive) is not null) + In(figure),
                figure.MeasuredAt + (figure.Resolution is double step ? $", {Figures.Number(step)} {figure.Unit}" : ""),
            ]),
            TimingFigures);
    }

    /// <summary>Every limit that was used, with its source.</summary>
    public static void Limits(HtmlWriter html, IEnumerable<TimedInput> inputs)
    {
        List<IReadOnlyList<string>> rows =
        [
            .. inputs.SelectMany(input => input.Figures)
                .Where(figure => figure.Transmit is not null || figure.Receive is not null)
                .Select(figure => (
                    Quantity: $"{LineTimings.Words(figure.Quantity)}, {figure.Unit}",
                    Role: figure.Role,
                    Send: TimingWords.Limit(figure.Transmit, figure.Unit),
                    SendSource: figure.Transmit?.Source ?? "",
                    Accept: TimingWords.Limit(figure.Receive, figure.Unit),
                    AcceptSource: figure.Receive?.Source ?? ""))
                .Distinct()
                .Select(row => (IReadOnlyList<string>)[row.Quantity, row.Role, row.Send, row.SendSource, row.Accept, row.AcceptSource]),
        ];
        if (rows.Count == 0)
        {
            HtmlParts.Paragraph(html, "No figure here has a limit to be held against.");
            return;
        }

        HtmlParts.Table(html, "Limits used", ["quantity", "limits of", "to send", "source", "a receiver must accept", "source"], rows);
    }

    /// <summary>What each input is and how well it measures.</summary>
    public static void Instrument(HtmlWriter html, ReportContent content)
    {
        HtmlParts.Table(
            html,
            "Inputs",
            ["input", "interface", "stamped by", "resolution", "what it holds", "from", "to"],
            content.Survey.Inputs.SelectMany(input => input.Interfaces.DefaultIfEmpty().Select(each => (IReadOnlyList<string>)
            [
                input.Name,
                NameOf(each),
                StampedByWords(each?.StampedBy),
                each is null ? Figures.None : Figures.Time(each.Resolution),
                Amount(content.Survey.Lines, input, each),
                Moment(content, input.First),
                Moment(content, input.Last),
            ])));
    }

    /// <summary>The files.</summary>
    public static void Files(HtmlWriter html, IReadOnlyList<ReportFile> files) => HtmlParts.Table(
        html,
        "Files",
        ["file", "what", "octets", "SHA-256"],
        files.Select(file => (IReadOnlyList<string>)[file.Name, file.What, file.Octets is long octets ? Figures.Count(octets) : Figures.None, file.Sha256.Length > 0 ? file.Sha256 : "a live input: nothing to hash"]),
        FileFigures,
        FileHashes);

    /// <summary>An interface as the input names it.</summary>
    internal static string NameOf(CaptureInterface? each) =>
        each is null ? Figures.None : each.Name.Length + each.Description.Length == 0 ? "no name given" : $"{each.Name} {each.Description}".Trim();

    /// <summary>How much came of an interface. Records of a line recording are blocks of edges, which says nothing: its packets do.</summary>
    internal static string Amount(IReadOnlyList<LineChannelSummary> lines, InputSummary input, CaptureInterface? from) =>
        from is { Content: InterfaceContent.Line } && lines.FirstOrDefault(line => line.Name == from.Name) is { } channel
            ? $"{Figures.Count(channel.Packets, "packet")}, {Figures.Count(channel.Edges, "edge")}"
            : Figures.Count(input.Records, "record");

    private static string Moment(ReportContent content, Timestamp? moment) => moment is not Timestamp time ? Figures.None
        : WallClock.IsUndated(time) ? Figures.Number(time.UnixNanoseconds / 1e9) + " s"
        : content.Clock.Time(time);

    /// <summary>Who stamped the records, in words.</summary>
    internal static string StampedByWords(StampedBy? who) => who switch
    {
        StampedBy.Adapter => "the adapter",
        StampedBy.Kernel => "the kernel",
        StampedBy.OurRead => "our own read",
        StampedBy.SampleClock => "the recorder's own clock",
        _ => "not said",
    };

    /// <summary>A sender with its address.</summary>
    internal static string Who(SenderSummary sender) => sender.Name.Length > 0 && sender.Address.Length > 0 ? $"{sender.Name} ({sender.Address})"
        : sender.Name.Length > 0 ? sender.Name
        : sender.Address.Length > 0 ? sender.Address : "the line";

    private static string In(TimingMeasurement figure)
    {
        if (figure.Packets is not { } packets || packets.Inside == packets.All)
        {
            return "";
        }

        long of = figure.Verdict switch
        {
            LimitVerdict.OutsideReceive => packets.OutsideReceive,
            LimitVerdict.OutsideTransmit => packets.OutsideTransmit,
            _ => packets.Undecided,
        };
        return $", {Figures.Count(of)} of {Figures.Count(packets.All)} packets";
    }
}
