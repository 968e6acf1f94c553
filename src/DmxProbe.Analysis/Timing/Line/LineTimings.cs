using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;

namespace DmxProbe.Analysis.Timing.Line;

/// <summary>What was measured on lines, as figures with their limits and verdicts.</summary>
public static class LineTimings
{
    private const int MostBars = 16;

    // A percentile is one of the values only where one of them lies beyond it.
    private const int EnoughFor95 = 20;
    private const string Edges = "edges";
    private const string Microseconds = "us";

    /// <summary>The words of the roles on the command line and in JSON.</summary>
    public static IReadOnlyList<(string Word, LineRole Role)> Roles { get; } =
    [
        ("transmitter", LineRole.Transmitter),
        ("receiver", LineRole.Receiver),
        ("test-packet", LineRole.TestPacket),
        ("rdm-controller", LineRole.RdmController),
        ("rdm-responder", LineRole.RdmResponder),
    ];

    /// <summary>The word of a role.</summary>
    public static string Word(LineRole role) => Roles.First(each => each.Role == role).Word;

    /// <summary>A quantity in words: <c>mark after break</c>.</summary>
    /// <param name="quantity">As <see cref="TimingMeasurement.Quantity"/> has it.</param>
    public static string Words(string quantity) => quantity switch
    {
        "slotCount" => "slots sent",
        "silence" => "silent for",
        "keepAlive" => "keep-alive",
        _ => string.Concat(quantity.Select(letter => char.IsUpper(letter) ? " " + char.ToLowerInvariant(letter) : letter.ToString())),
    };

    /// <summary>Every figure of every line.</summary>
    /// <param name="timing">What was collected.</param>
    /// <param name="channels">The channels of the recording, for their names.</param>
    public static IReadOnlyList<TimingMeasurement> Measure(LineTimingAnalyzer timing, IReadOnlyList<LineChannelSummary> channels)
    {
        List<(UniverseId Universe, LinePacketKind Kind, LinePopulation Population)> all = [.. timing.Populations()];
        return
        [
            .. from each in all
               let doubt = channels.FirstOrDefault(channel => channel.Line == each.Universe)?.Doubt ?? LineDoubt.None
               from figure in Measure(each.Universe, each.Kind, each.Population, Subject(each.Universe, channels), IsAlone(all, each.Universe))
               select doubt == LineDoubt.None ? figure : Unjudged(figure, doubt),
        ];
    }

    // What was perhaps not sent is shown and not judged.
    private static TimingMeasurement Unjudged(TimingMeasurement figure, LineDoubt doubt) =>
        figure.Transmit is null && figure.Receive is null ? figure : figure with
        {
            Verdict = LimitVerdict.Undecided,
            IsUnjudged = true,
            UndecidedAgainst = doubt switch
            {
                LineDoubt.Polarity => "the polarity is in doubt",
                LineDoubt.Rate => "the rate is in doubt",
                _ => "the line is disturbed",
            },
            Packets = figure.Packets is { } packets ? new VerdictCounts(0, 0, 0, packets.All) : null,
        };

    /// <summary>A line and its channel: <c>line A 'DMX+'</c>.</summary>
    public static string Subject(UniverseId line, IReadOnlyList<LineChannelSummary> channels) =>
        channels.FirstOrDefault(channel => channel.Line == line)?.Name is { Length: > 0 } name ? $"{line.Label} '{name}'" : line.Label;

    private static bool IsAlone(List<(UniverseId Universe, LinePacketKind Kind, LinePopulation Population)> all, UniverseId universe) =>
        all.Count(each => each.Universe == universe) == 1;

    private static IEnumerable<TimingMeasurement> Measure(
        UniverseId universe, LinePacketKind kind, LinePopulation population, string subject, bool isAlone)
    {
        TimingMeasurement about = new()
        {
            Subject = subject,
            Protocol = UniverseProtocol.Line,
            StartCode = population.StartCode,
            Quantity = "",
            Unit = Microseconds,
            MeasuredAt = Edges,
            Verdict = LimitVerdict.NotMeasurable,
            Role = Word(population.Role),
        };
        foreach (QuantityTrack track in population.Tracks.Where(track => track.Values.Count > 0))
        {
            LimitRange? transmit = track.Transmit;
            if (kind == LinePacketKind.Test && track.Quantity == LineQuantity.MarkBeforeBreak && isAlone && population.Role == LineRole.TestPacket)
            {
                transmit = LineLimits.TestPacketsBackToBack;
            }

            if (IsTold(track, transmit, kind))
            {
                TimingMeasurement figure = Of(about, track, transmit, Note(track.Quantity, population));
                yield return track.Quantity == LineQuantity.Silence ? InMilliseconds(figure) : figure;
            }

            if (track.Quantity == LineQuantity.Silence)
            {
                yield return Rate(about, track.Values);
            }
        }

        if (population.Tracks.All(track => track.Quantity != LineQuantity.BitSkew || track.Values.Count == 0) && population.Packets > 0)
        {
            yield return about with
            {
                Quantity = Name(LineQuantity.BitSkew),
                Note = "no slot holds a high bit between low ones; record with slots that change to see it",
            };
        }
    }

    // The mean between slots, the packet's own length and the single bit matter only where there is a limit or a person looks.
    private static bool IsTold(QuantityTrack track, LimitRange? transmit, LinePacketKind kind) => track.Quantity switch
    {
        LineQuantity.InterSlotMean or LineQuantity.PacketTime => transmit is not null,
        LineQuantity.MarkBeforeBreak => kind is not (LinePacketKind.RdmRequest or LinePacketKind.RdmResponse),
        _ => true,
    };

    private static string Note(LineQuantity quantity, LinePopulation population) => quantity switch
    {
        LineQuantity.InterSlot => "the greatest of each packet",
        LineQuantity.BitTime or LineQuantity.SlotTime when population.Of(LineQuantity.BitSkew).Values.Count == 0 =>
            "from low pulses only: a skew of the line goes into it, and 1 us of it is allowed for",
        LineQuantity.BitTime or LineQuantity.SlotTime => "mean of each packet",
        LineQuantity.BitSkew => "single low bit less single high bit, mean of each packet; over 0.5 us points at the cable or the driver (common practice, no source)",
        LineQuantity.Silence => "from one packet of levels to the next",
        _ => "",
    };

    private static TimingMeasurement Of(TimingMeasurement about, QuantityTrack track, LimitRange? transmit, string note)
    {
        Distribution values = track.Values;
        LimitVerdict verdict = LimitRule.Judge(
            values.Least,
            track.Uncertainty(values.Least),
            values.Most,
            track.Uncertainty(values.Most),
            values.Count,
            transmit,
            track.Receive,
            out string against);
        return about with
        {
            Quantity = Name(track.Quantity),
            Unit = track.Quantity == LineQuantity.SlotCount ? "slots" : Microseconds,
            Min = values.Least,
            Median = values.Percentile(0.5),
            Max = values.Most,
            Mean = values.Mean,
            Deviation = Finite(values.Deviation),
            P5 = values.Count >= EnoughFor95 ? values.Percentile(0.05) : null,
            P95 = values.Count >= EnoughFor95 ? values.Percentile(0.95) : null,
            P99 = values.Count >= IntervalStatistics.EnoughFor99 ? values.Percentile(0.99) : null,
            Histogram = values.Bars(MostBars),
            Packets = transmit is null && track.Receive is null ? null : track.Counts,
            Count = values.Count,
            Resolution = track.Quantity == LineQuantity.SlotCount ? null : track.Resolution,
            MinUncertainty = track.Uncertainty(values.Least),
            MaxUncertainty = track.Uncertainty(values.Most),
            Transmit = transmit,
            Receive = track.Receive,
            Verdict = verdict,
            UndecidedAgainst = against,
            Note = note,
        };
    }

    // A network's silence is told in milliseconds: so is a line's.
    private static TimingMeasurement InMilliseconds(TimingMeasurement figure)
    {
        const double thousandth = 1e-3;
        return figure with
        {
            Unit = "ms",
            Min = figure.Min * thousandth,
            Median = figure.Median * thousandth,
            Max = figure.Max * thousandth,
            Mean = figure.Mean * thousandth,
            Deviation = figure.Deviation * thousandth,
            P5 = figure.P5 * thousandth,
            P95 = figure.P95 * thousandth,
            P99 = figure.P99 * thousandth,
            Histogram = [.. figure.Histogram.Select(bar => bar with { From = bar.From * thousandth, To = bar.To * thousandth })],
            Resolution = figure.Resolution * thousandth,
            MinUncertainty = figure.MinUncertainty * thousandth,
            MaxUncertainty = figure.MaxUncertainty * thousandth,
            Transmit = InMilliseconds(figure.Transmit),
            Receive = InMilliseconds(figure.Receive),
        };
    }

    private static LimitRange? InMilliseconds(LimitRange? limit) =>
        limit is null ? null : limit with { Min = limit.Min * 1e-3, Max = limit.Max * 1e-3 };

    private static TimingMeasurement Rate(TimingMeasurement about, Distribution intervals)
    {
        const double second = 1e6;
        return about with
        {
            Quantity = "refreshRate",
            Unit = "Hz",
            Min = second / intervals.Most,
            Median = second / intervals.Percentile(0.5),
            Max = second / intervals.Least,
            Histogram = intervals.Bars(MostBars, interval => second / interval),
            Count = intervals.Count,
            Verdict = LimitVerdict.Inside,
            Note = "packets of levels a second; break to break holds the limit",
        };
    }

    private static double? Finite(double value) => double.IsFinite(value) ? value : null;

    private static string Name(LineQuantity quantity)
    {
        string name = quantity.ToString();
        return char.ToLowerInvariant(name[0]) + name[1..];
    }
}
