using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// What receivers put out of a contested universe, slot by slot for both answers, and what is decided and comes next. What
/// is put out is noted in the universe's history.
/// </summary>
internal sealed class ContestOutput
{
    private const int Answers = 2;
    private const int Slots = Claim.Slots;

    private readonly UniverseHistory _history;
    private readonly Outcome[][] _now = [new Outcome[Slots], new Outcome[Slots]];
    private readonly Outcome[][] _next = [new Outcome[Slots], new Outcome[Slots]];
    private readonly Timestamp[][] _since = [new Timestamp[Slots], new Timestamp[Slots]];
    private readonly OutcomeTable _outcomes = new();
    private Levels? _levels;
    private bool _differs;

    /// <summary>Makes one in which nobody decides.</summary>
    public ContestOutput(UniverseHistory history)
    {
        _history = history;
        for (int answer = 0; answer < Answers; answer++)
        {
            Array.Fill(_now[answer], Outcome.Nobody);
            Array.Fill(_next[answer], Outcome.Nobody);
            Array.Fill(_since[answer], Timestamp.MinValue);
        }
    }

    private ContestOutput(ContestOutput other, UniverseHistory history, Func<Outcome, Outcome> same)
    {
        _history = history;
        for (int answer = 0; answer < Answers; answer++)
        {
            _now[answer] = [.. other._now[answer].Select(same)];
            _next[answer] = [.. other._next[answer].Select(same)];
            _since[answer] = [.. other._since[answer]];
        }

        _levels = other._levels?.Copy();
        _differs = other._differs;
    }

    /// <summary>Whether the level of each slot and its last move are kept.</summary>
    public bool HasLevels => _levels is not null;

    /// <summary>What is put out of a slot, from 0.</summary>
    public Outcome Now(int answer, int slot) => _now[answer][slot];

    /// <summary>What has arrived for it.</summary>
    public Outcome Next(int answer, int slot) => _next[answer][slot];

    /// <summary>Since when its senders decide it; null where that was before the capture.</summary>
    public Timestamp? Since(int answer, int slot) => _since[answer][slot] == Timestamp.MinValue ? null : _since[answer][slot];

    /// <summary>Its level; -1 where it is not known.</summary>
    public int Level(int answer, int slot) => _levels is null ? Math.Max(_now[answer][slot].Level(slot), -1) : _levels.Of(answer, slot);

    /// <summary>Its last move; null where none was seen.</summary>
    public SlotMove? MoveOf(int answer, int slot) => _levels?.MoveOf(answer, slot);

    /// <summary>From now on levels and moves are kept, from nothing known.</summary>
    public void Follow() => _levels ??= new Levels();

    /// <summary>From now on levels and moves are kept, from what is put out.</summary>
    public void FollowFromNow()
    {
        if (_levels is null)
        {
            _levels = new Levels();
            _levels.Begin(_now);
        }
    }

    /// <summary>What has arrived was put out since a moment already, and nothing changed.</summary>
    public void Begin(Timestamp since)
    {
        for (int answer = 0; answer < Answers; answer++)
        {
            _next[answer].CopyTo(_now[answer], 0);
            Array.Fill(_since[answer], since);
        }

        _differs = false;
        _levels?.Begin(_now);
    }

    /// <summary>The places of claims have changed.</summary>
    public void PlacesChanged() => _outcomes.Clear();

    /// <summary>Says what comes next for a slot.</summary>
    /// <param name="answer">0 or 1.</param>
    /// <param name="slot">From 0.</param>
    /// <param name="places">The claims, by place.</param>
    /// <param name="set">Those that decide it, a bit for each place.</param>
    /// <param name="rule">Why.</param>
    public void Say(int answer, int slot, Claim?[] places, ulong set, WinRule rule) => _next[answer][slot] = _outcomes.Of(places, set, rule);

    /// <summary>All slots were decided anew.</summary>
    public void Decided() => _differs = true;

    /// <summary>Puts out what has arrived.</summary>
    /// <param name="at">When.</param>
    /// <param name="cause">Why.</param>
    /// <param name="by">By whom; -1 for nobody.</param>
    /// <param name="first">The receivers of the first answer.</param>
    /// <param name="second">Those of the second.</param>
    /// <param name="silently">True where not the senders changed but what is known of the receivers.</param>
    public void PutOut(Timestamp at, ChangeCause cause, int by, WinCondition first, WinCondition second, bool silently)
    {
        int slot = _differs ? 0 : Slots;
        while (slot < Slots)
        {
            int end = slot + 1;
            while (end < Slots && IsAlike(slot, end))
            {
                end++;
            }

            if (_now[0][slot] != _next[0][slot] || _now[1][slot] != _next[1][slot])
            {
                if (!silently)
                {
                    Tell(slot, end, at, cause, by, first, second);
                }

                Replace(0, slot, end, at);
                Replace(1, slot, end, at);
            }

            slot = end;
        }

        _differs = false;
        _levels?.Take(_now, at, cause, by);
    }

    /// <summary>A copy whose course leaves this as it is.</summary>
    /// <param name="history">The copy's history.</param>
    /// <param name="same">For each outcome the one of the copied claims.</param>
    public ContestOutput Copy(UniverseHistory history, Func<Outcome, Outcome> same) => new(this, history, same);

    private bool IsAlike(int slot, int other) =>
        _now[0][other] == _now[0][slot] && _now[1][other] == _now[1][slot] && _next[0][other] == _next[0][slot] && _next[1][other] == _next[1][slot];

    private void Tell(int slot, int end, Timestamp at, ChangeCause cause, int by, WinCondition firstOf, WinCondition secondOf)
    {
        Outcome first = _now[0][slot];
        Outcome second = _now[1][slot];
        Outcome nextFirst = _next[0][slot];
        Outcome nextSecond = _next[1][slot];
        bool both = first.IsBySameSenders(second) && nextFirst.IsBySameSenders(nextSecond);
        if (IsChange(first, nextFirst))
        {
            Note(both ? WinCondition.Always : firstOf, first, nextFirst);
        }

        if (!both && IsChange(second, nextSecond))
        {
            Note(secondOf, second, nextSecond);
        }

        bool IsChange(Outcome before, Outcome after) =>
            !before.IsBySameSenders(after) || (_history.KeepsRules && before.IsDecided != after.IsDecided);

        void Note(WinCondition condition, Outcome before, Outcome after)
        {
            if (_history.Wants(cause, at))
            {
                _history.Add(new WinnerChange(at, slot + 1, end, condition, before.Senders, after.Senders, after.Rule, cause, by));
            }
        }
    }

    private void Replace(int answer, int slot, int end, Timestamp at)
    {
        Outcome next = _next[answer][slot];
        bool moves = !_now[answer][slot].IsBySameSenders(next);
        Array.Fill(_now[answer], next, slot, end - slot);
        if (moves)
        {
            Array.Fill(_since[answer], at, slot, end - slot);
        }
    }
}
