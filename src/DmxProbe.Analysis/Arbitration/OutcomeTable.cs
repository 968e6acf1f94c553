using System.Numerics;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>The outcomes of a contest by set of claims and rule. Bounded: what is beyond is one outcome of its own.</summary>
internal sealed class OutcomeTable
{
    /// <summary>Most outcomes kept apart.</summary>
    public const int Capacity = 1024;

    private static readonly Outcome NotListed = new([], WinRule.NotListed);
    private readonly Dictionary<(ulong Set, WinRule Rule), Outcome> _known = [];
    private ulong _lastSet;
    private WinRule _lastRule;
    private Outcome? _last;

    /// <summary>Forgets all: the places of claims have changed.</summary>
    public void Clear()
    {
        _known.Clear();
        _last = null;
    }

    /// <summary>The outcome of a set of claims.</summary>
    /// <param name="places">By place, the claims; null where a place is free.</param>
    /// <param name="set">A bit for each place.</param>
    /// <param name="rule">Why they decide.</param>
    public Outcome Of(Claim?[] places, ulong set, WinRule rule)
    {
        if (_last is not null && set == _lastSet && rule == _lastRule)
        {
            return _last;
        }

        if (!_known.TryGetValue((set, rule), out Outcome? outcome))
        {
            outcome = _known.Count < Capacity ? Make(places, set, rule) : NotListed;
            if (_known.Count < Capacity)
            {
                _known.Add((set, rule), outcome);
            }
        }

        (_last, _lastSet, _lastRule) = (outcome, set, rule);
        return outcome;
    }

    private static Outcome Make(Claim?[] places, ulong set, WinRule rule)
    {
        Claim[] claims = new Claim[BitOperations.PopCount(set)];
        for (int i = 0; i < claims.Length; i++)
        {
            int place = BitOperations.TrailingZeroCount(set);
            claims[i] = places[place]!;
            set &= set - 1;
        }

        return new Outcome(claims, rule);
    }
}
