namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Ranges, and looks that exist where they tell clearly more: a unit that can move leaves few slots that may be raised, and a
/// look that stands already moves nothing. What it tells may open more slots. A look is asked for only where bringing it up
/// from what stands now brings no slot to a level that endangers a place at which the unit may be.
/// </summary>
public sealed class RangesAndLooks : IAskPlanner
{
    // From a dark stage less of the other light is in the way: a look must tell clearly more. A unit that can do worse than
    // flash is looked at first as long as that tells something: after a dark stage the look may not come back.
    private const double OfLook = 0.7;
    private const double LeastOfLook = 0.1;

    private readonly AskRig _rig;
    private readonly RangePlanner _ranges;
    private readonly ExistingLookPlanner _looks;
    private IReadOnlyList<byte[]> _now;

    /// <summary>Makes it.</summary>
    /// <param name="rig">The rig; what it holds is what stands before the first question.</param>
    /// <param name="ranges">The ranges.</param>
    /// <param name="looks">The looks.</param>
    public RangesAndLooks(AskRig rig, RangePlanner ranges, ExistingLookPlanner looks)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(ranges);
        ArgumentNullException.ThrowIfNull(looks);
        (_rig, _ranges, _looks, _now) = (rig, ranges, looks, rig.Held);
    }

    /// <inheritdoc/>
    public AskQuestion? Next(AskPosterior posterior, AskSafety safety)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        if (_now == _rig.Held && posterior.Evidence.Any(piece => piece.Kind == AskEvidenceKind.Answer))
        {
            // Answers of an earlier run: the stage was worked on since.
            _now = DarkStage.Of(_rig, safety);
        }

        AskQuestion? range = _ranges.Next(posterior, safety);
        AskQuestion? look = _looks.Next(posterior, safety, levels => IsSafeFromNow(levels, posterior, safety));
        bool first = look is not null && !safety.OnlyFlashes && look.Bits > LeastOfLook;
        return first || (look is not null && OfLook * look.Bits > (range?.Bits ?? 0)) ? look : range;
    }

    /// <inheritdoc/>
    public AskQuestion? Confirm(AskPosterior posterior, AskSafety safety, int place) => _ranges.Confirm(posterior, safety, place);

    /// <inheritdoc/>
    public void Asked(AskQuestion question)
    {
        ArgumentNullException.ThrowIfNull(question);
        _now = question.Levels;
        _ranges.Asked(question);
        _looks.Asked(question);
    }

    private bool IsSafeFromNow(IReadOnlyList<byte[]> levels, AskPosterior posterior, AskSafety safety)
    {
        LitScan scan = new(_rig.Space, safety.Dangers);
        scan.Load(levels, _now, posterior.Span);
        return scan.Risk < AskSafety.LiveFrom;
    }
}
