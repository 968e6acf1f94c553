using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Questions for a controller on which only looks that exist can be brought up: those that stood still for half a second in
/// the capture, and in which everything but intensity and colour of patched units is as it is held now. Such a look moves
/// nothing, starts nothing and strikes nothing that is not so already.
/// </summary>
public sealed class ExistingLookPlanner : IAskPlanner
{
    /// <summary>Seconds that bringing up a look takes.</summary>
    public const double SecondsOfLook = 10;

    /// <summary>As many looks are tried, if no other number is given.</summary>
    public const int MostLooks = 400;

    // The same eye at the same look errs the same way again.
    private const int MostTimes = 2;

    // A look that lights most of the rig confirms nothing: any light is lit in it.
    private const double MostLit = 0.5;

    private readonly AskRig _rig;
    private readonly List<(Timestamp Time, byte[][] Levels)> _looks = [];
    private readonly Dictionary<Timestamp, int> _times = [];
    private Timestamp? _last;

    /// <summary>Collects the looks.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="histories">What was captured; of two senders of a universe the first counts.</param>
    /// <param name="safety">What may be raised.</param>
    /// <param name="most">How many looks are tried, at least 1.</param>
    public ExistingLookPlanner(AskRig rig, IReadOnlyList<SlotHistory> histories, AskSafety safety, int most = MostLooks)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(safety);
        ArgumentOutOfRangeException.ThrowIfLessThan(most, 1);
        _rig = rig;
        SlotHistory[] own = [.. rig.Space.Universes.Select(universe => histories.First(history => history.Universe == universe))];
        int samples = own.Max(history => history.Samples);
        int step = Math.Max(SlotHistory.RatePerSecond / 2, samples / (2 * most));
        int[] at = [.. Enumerable.Range(0, Math.Max(samples / step, 1)).Select(k => k * step)];
        byte[][][] frames = [.. own.Select(history => HistoryFrames.At(history, at))];
        HashSet<string> known = new(StringComparer.Ordinal);

        // What is held at the end stands already: nothing is changed by looking at it.
        if (safety.Up(rig.Held).Count > 0)
        {
            _ = known.Add(Key(rig.Held));
            _looks.Add((TimeOf(own[0], samples - 1), [.. rig.Held]));
        }

        for (int k = 1; k < at.Length && _looks.Count < most; k++)
        {
            byte[][] levels = [.. frames.Select(frame => frame[k])];
            bool still = frames.All(frame => frame[k].AsSpan().SequenceEqual(frame[k - 1]));
            if (still && IsSafe(levels, safety) && known.Add(Key(levels)))
            {
                _looks.Add((TimeOf(own[0], at[k]), levels));
            }
        }
    }

    /// <summary>How many looks may be asked for.</summary>
    public int Looks => _looks.Count;

    /// <inheritdoc/>
    public AskQuestion? Next(AskPosterior posterior, AskSafety safety) => Next(posterior, safety, _ => true);

    /// <summary>The look that tells most, of those that may be asked for now.</summary>
    /// <param name="posterior">What is known.</param>
    /// <param name="safety">What may be raised.</param>
    /// <param name="mayAsk">Whether some levels may be asked for; asked only of looks that would be the best.</param>
    public AskQuestion? Next(AskPosterior posterior, AskSafety safety, Func<IReadOnlyList<byte[]>, bool> mayAsk)
    {
        ArgumentNullException.ThrowIfNull(mayAsk);
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        LitScan scan = new(_rig.Space, safety.Dangers);
        AskQuestion? best = null;
        AskQuestion? last = null;
        foreach ((Timestamp time, byte[][] levels) in _looks.Where(look => _times.GetValueOrDefault(look.Time) < MostTimes))
        {
            scan.Load(levels, posterior.Span);
            double bits = scan.Bits(posterior.EyeError);
            bool stands = time == _last;
            if (bits > ((stands ? null : best)?.Bits ?? AskWorth.Least(posterior)) && mayAsk(levels))
            {
                AskQuestion look = new(safety.Up(levels), levels, bits, SecondsOfLook) { Look = time };
                (best, last) = stands ? (best, look) : (look, last);
            }
        }

        // The look that was just answered for tells again only how often the eye errs.
        return best ?? last;
    }

    /// <inheritdoc/>
    public AskQuestion? Confirm(AskPosterior posterior, AskSafety safety, int place)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        LitScan scan = new(_rig.Space, safety.Dangers);
        AskQuestion? best = null;
        double least = MostLit;
        foreach ((Timestamp time, byte[][] levels) in _looks)
        {
            scan.Load(levels, posterior.Span);
            double lit = AskWords.LitUnits(_rig, levels).Count / (double)Math.Max(_rig.Units.Count, 1);
            if (scan.LitOf(place) > 0.9 && lit <= least)
            {
                least = lit;
                best = new AskQuestion(safety.Up(levels), levels, 0, SecondsOfLook) { Look = time, Confirms = place };
            }
        }

        return best;
    }

    /// <inheritdoc/>
    public void Asked(AskQuestion question)
    {
        ArgumentNullException.ThrowIfNull(question);
        _last = question.Look;
        if (question.Look is Timestamp time && question.Confirms is null)
        {
            _times[time] = _times.GetValueOrDefault(time) + 1;
        }
    }

    private static string Key(IEnumerable<byte[]> levels) => Convert.ToBase64String([.. levels.SelectMany(each => each)]);

    private static Timestamp TimeOf(SlotHistory history, int sample) => history.Start + Duration.FromNanoseconds(sample * 1_000_000_000L / SlotHistory.RatePerSecond);

    private bool IsSafe(byte[][] levels, AskSafety safety)
    {
        for (int u = 0; u < levels.Length; u++)
        {
            for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
            {
                if (levels[u][slot - 1] != _rig.Held[u][slot - 1] && safety.UseOf(u, slot) != SlotUse.Light)
                {
                    return false;
                }
            }
        }

        return true;
    }
}
