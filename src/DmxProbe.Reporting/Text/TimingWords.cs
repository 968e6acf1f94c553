using System.Globalization;

using DmxProbe.Analysis.Timing;

namespace DmxProbe.Reporting.Text;

/// <summary>Limits, margins and verdicts of timing figures in words.</summary>
public static class TimingWords
{
    /// <summary>A limit in figures: <c>88 to 1 s</c>, <c>min 12</c>.</summary>
    public static string Limit(LimitRange? limit, string unit) => limit switch
    {
        { Min: double min, Max: double max } when min == max => LimitRange.Exact(min, unit),
        { Min: double min, Max: double max } => $"{LimitRange.Exact(min, unit)} to {LimitRange.Exact(max, unit)}",
        { Min: double min } => $"min {LimitRange.Exact(min, unit)}",
        { Max: double max } => $"max {LimitRange.Exact(max, unit)}",
        _ => Figures.None,
    };

    /// <summary>A limit with its unit: <c>12 us to 1 s</c>, <c>at least 92 us</c>; empty without one.</summary>
    public static string LimitInWords(LimitRange? limit, string unit) => limit?.InWords(unit) ?? "";

    /// <summary>A verdict in a word or two.</summary>
    public static string ShortVerdict(LimitVerdict verdict, bool limited) => verdict switch
    {
        LimitVerdict.Inside => limited ? "inside" : "no limit",
        LimitVerdict.OutsideTransmit => "outside transmit",
        LimitVerdict.OutsideReceive => "outside receive",
        LimitVerdict.Undecided => "undecided",
        _ => "not measurable",
    };

    /// <summary>How far the nearest figure is from its limit; negative beyond it; a dash where there is none.</summary>
    public static string Margin(TimingMeasurement figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return (figure.Transmit ?? figure.Receive) is not LimitRange limit || figure.Verdict == LimitVerdict.NotMeasurable ? Figures.None : Margin(figure, limit);
    }

    /// <summary>As <see cref="Margin(TimingMeasurement)"/>, of one limit.</summary>
    public static string Margin(TimingMeasurement figure, LimitRange limit)
    {
        ArgumentNullException.ThrowIfNull(figure);
        ArgumentNullException.ThrowIfNull(limit);
        double? above = limit.Min is double least && figure.Min is double min ? min - least : null;
        double? below = limit.Max is double greatest && figure.Max is double max ? greatest - max : null;
        double? margin = above is null ? below : below is null ? above : Math.Min(above.Value, below.Value);
        return margin is double value ? (value >= 0 ? "+" : "") + Number(value, figure.Unit) : Figures.None;
    }

    /// <summary>Where a figure was measured, in words.</summary>
    public static string At(string place) => place switch
    {
        "network" => "network arrival at the capture point",
        "usb" => "message arrival at the USB interface",
        "uart" => "a serial port",
        "edges" => "the line's edges",
        _ => place,
    };

    /// <summary>A figure of a unit: slots are counted, so no fraction stands behind them.</summary>
    public static string Number(double? value, string unit) =>
        unit == "slots" && value is double slots ? slots.ToString("0", CultureInfo.InvariantCulture) : Figures.Number(value);
}
