using System.Globalization;

namespace DmxProbe.Analysis.Timing.Line;

/// <summary>A line's figure as one sentence: which limit, by how much, in how many packets, and what a conforming receiver may do.</summary>
public static class LineAnswer
{
    /// <summary>The sentence for a figure that is outside a limit in some packets.</summary>
    /// <param name="figure">A figure whose packets were judged one by one.</param>
    /// <param name="quantity">Its quantity in words.</param>
    public static string Of(TimingMeasurement figure, string quantity)
    {
        VerdictCounts packets = figure.Packets ?? new VerdictCounts(0, 0, 0, 0);
        bool beyondReceive = packets.OutsideReceive > 0;
        long outside = packets.OutsideTransmit + packets.OutsideReceive;
        bool isShort = IsShort(figure);
        string values = figure.Min == figure.Max ? $"{Text(figure.Max)} {figure.Unit}"
            : isShort ? $"down to {Text(figure.Min)} {figure.Unit}" : $"up to {Text(figure.Max)} {figure.Unit}";
        string limits = figure.Transmit is LimitRange transmit
            ? $"a sender must keep {Text(transmit, isShort)} {figure.Unit}{By(figure, transmit, isShort)}"
            : figure.Receive is LimitRange least ? $"a receiver need only accept {Text(least, isShort)} {figure.Unit}{By(figure, least, isShort)}" : "";
        string receivers = figure.Receive is not LimitRange receive
            ? "What a receiver must still accept is not known; one may fail."
            : beyondReceive
                ? $"A receiver need only accept {Text(receive, isShort)} {figure.Unit}: a conforming one may miss or misread {Count(packets.OutsideReceive)} of these packets."
                : (isShort ? receive.Min : receive.Max) is null ? "A conforming receiver still follows: no limit of what it must accept is passed."
                : $"A receiver must accept {Text(receive, isShort)} {figure.Unit}: a conforming one still follows, and one that does not is at fault too.";
        return $"{figure.Subject}: {quantity} is {(beyondReceive ? "outside what a receiver must accept" : "outside the transmit limits")} in "
            + $"{Count(beyondReceive ? packets.OutsideReceive : outside)} of {Count(packets.All)} packets: {values}; {limits}. {receivers}";
    }

    /// <summary>A limit in figures: <c>12 to 1,000,000 us</c>, <c>at least 12 us</c>; empty without one.</summary>
    public static string Limit(LimitRange? limit, string unit) => limit switch
    {
        { Min: double min, Max: double max } => $"{Text(min)} to {Text(max)} {unit}",
        { Min: double min } => $"at least {Text(min)} {unit}",
        { Max: double max } => $"at most {Text(max)} {unit}",
        _ => "",
    };

    // Which side of the limits is passed.
    private static bool IsShort(TimingMeasurement figure)
    {
        LimitRange? limit = figure.Transmit ?? figure.Receive;
        double below = limit?.Min is double least && figure.Min is double min ? least - min : double.NegativeInfinity;
        double above = limit?.Max is double most && figure.Max is double max ? max - most : double.NegativeInfinity;
        return below >= above;
    }

    private static string By(TimingMeasurement figure, LimitRange limit, bool isShort)
    {
        double past = (isShort ? limit.Min - figure.Min : figure.Max - limit.Max) ?? 0;
        string unit = past == 1 && figure.Unit == "slots" ? "slot" : figure.Unit;
        return past <= 0 ? "" : $", {Text(past)} {unit} {(isShort ? "more than the shortest" : "less than the longest")} here";
    }

    private static string Text(LimitRange limit, bool isShort) => isShort switch
    {
        true when limit.Min is double min => $"at least {Text(min)}",
        false when limit.Max is double max => $"at most {Text(max)}",
        _ => "any",
    };

    private static string Text(double? value) => (value ?? double.NaN).ToString("#,0.##", CultureInfo.InvariantCulture);

    private static string Count(long count) => count.ToString("N0", CultureInfo.InvariantCulture);
}
