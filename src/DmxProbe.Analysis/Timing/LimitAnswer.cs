using DmxProbe.Analysis.Timing.Line;

namespace DmxProbe.Analysis.Timing;

/// <summary>
/// The answer about one limit of one figure. A figure has one verdict for both of its limits together; here what may be sent and
/// what must be accepted are answered apart, for a figure can break the one and leave the other open.
/// </summary>
/// <param name="Figure">The figure.</param>
/// <param name="Side">Which limit.</param>
/// <param name="Limit">The limit.</param>
/// <param name="Standing">How the figure stands against it.</param>
/// <param name="Why">For <see cref="LimitStanding.Open"/>: what keeps it open; else empty.</param>
public sealed record LimitAnswer(TimingMeasurement Figure, LimitSide Side, LimitRange Limit, LimitStanding Standing, string Why)
{
    /// <summary>The answers about a figure: none where nothing limits it, else one for each limit.</summary>
    /// <param name="figure">The figure.</param>
    public static IReadOnlyList<LimitAnswer> Of(TimingMeasurement figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        (LimitRange? send, LimitRange? accept) = (figure.Transmit, figure.Receive);
        if (figure.Verdict == LimitVerdict.NotMeasurable && send is null && accept is null)
        {
            // The limit is there all the same: that this input cannot decide it is the answer.
            send = Enum.TryParse(figure.Quantity, ignoreCase: true, out LineQuantity quantity)
                ? LineLimits.For(LineRole.Transmitter, quantity, out accept)
                : null;
        }

        List<LimitAnswer> answers = [];
        if (send is not null)
        {
            answers.Add(Against(figure, LimitSide.Send, send));
        }

        if (accept is not null)
        {
            answers.Add(Against(figure, LimitSide.Accept, accept));
        }

        return answers;
    }

    private static LimitAnswer Against(TimingMeasurement figure, LimitSide side, LimitRange limit)
    {
        if (figure.Verdict == LimitVerdict.NotMeasurable || figure is not { Min: double min, Max: double max })
        {
            return new LimitAnswer(figure, side, limit, LimitStanding.Open, figure.Note);
        }

        // What was perhaps not sent is judged against nothing.
        if (figure.IsUnjudged)
        {
            return new LimitAnswer(figure, side, limit, LimitStanding.Open, figure.UndecidedAgainst);
        }

        return LimitRule.Judge(min, figure.MinUncertainty, max, figure.MaxUncertainty, figure.Count, limit, receive: null, out string against) switch
        {
            LimitVerdict.Inside => new LimitAnswer(figure, side, limit, LimitStanding.Within, ""),
            LimitVerdict.Undecided => new LimitAnswer(figure, side, limit, LimitStanding.Open, against == LimitRule.TooFew
                ? FormattableString.Invariant($"too few measurements: {LimitRule.FewestToDecide} are wanted")
                : "nearer to the limit than this input can tell"),
            _ => new LimitAnswer(figure, side, limit, LimitStanding.Outside, ""),
        };
    }
}
