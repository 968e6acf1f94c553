using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>What is kept of a universe's past: who decided it as a whole, and changes by slot range. Bounded.</summary>
/// <param name="room">Room for changes beyond the usual; null: none.</param>
internal sealed class UniverseHistory(ChangeRoom? room = null)
{
    /// <summary>Most spans kept; further ones are counted.</summary>
    public const int MostSpans = 256;

    /// <summary>Most changes kept; further ones are counted.</summary>
    public const int MostChanges = 256;

    /// <summary>Most changes kept that levels alone made, as in an Art-Net merge.</summary>
    public const int MostLevelChanges = 64;

    private List<ObeyedSpan>? _spans;
    private List<WinnerChange>? _changes;
    private ObeyedSpan? _last;
    private int _levelChanges;
    private int _otherChanges;
    private long _spansNotListed;

    /// <summary>Whether a change counts too by which only the level can be told, or no longer be told, of the same senders.</summary>
    public bool KeepsRules => room is not null;

    /// <summary>Changes beyond those kept.</summary>
    public long ChangesNotListed { get; private set; }

    /// <summary>When the first of them took effect; null where all are kept.</summary>
    public Timestamp? FirstNotListed { get; private set; }

    /// <summary>The changes kept, oldest first.</summary>
    public IReadOnlyList<WinnerChange> Changes => _changes is null ? [] : _changes;

    /// <summary>From a moment on these senders decide the universe as a whole.</summary>
    /// <param name="at">The moment.</param>
    /// <param name="senders">Indexes, ascending.</param>
    /// <param name="ignored">Indexes of those that are there and take no part, ascending.</param>
    /// <param name="priority">Their priority; -1 where the protocol has none.</param>
    /// <param name="isMergeCancelled">Whether one has sole control because a merge was cancelled.</param>
    public void Settle(Timestamp at, ReadOnlySpan<int> senders, ReadOnlySpan<int> ignored, int priority, bool isMergeCancelled)
    {
        if (_last is { } last)
        {
            if (last.Priority == priority && last.IsMergeCancelled == isMergeCancelled && Same(senders, last.Senders) && Same(ignored, last.Ignored))
            {
                return;
            }

            if (at > last.From)
            {
                Add(last with { To = at });
            }
        }

        _last = new ObeyedSpan(at, at, senders.ToArray(), priority) { Ignored = ignored.ToArray(), IsMergeCancelled = isMergeCancelled };
    }

    /// <summary>Whether there is room for one more change; counts it where there is none.</summary>
    public bool Wants(ChangeCause cause, Timestamp at)
    {
        bool wants = (cause == ChangeCause.LevelChanged ? _levelChanges < MostLevelChanges : _otherChanges < MostChanges) || room?.TryTake() == true;
        if (!wants)
        {
            ChangesNotListed++;
            FirstNotListed ??= at;
        }

        return wants;
    }

    /// <summary>Keeps a change of who decides a range.</summary>
    public void Add(WinnerChange change)
    {
        _ = change.Cause == ChangeCause.LevelChanged ? _levelChanges++ : _otherChanges++;
        (_changes ??= []).Add(change);
    }

    /// <summary>The spans up to a time, oldest first.</summary>
    public IReadOnlyList<ObeyedSpan> Spans(Timestamp now, out long notListed)
    {
        notListed = _spansNotListed;
        List<ObeyedSpan> spans = _spans is null ? [] : [.. _spans];
        if (_last is null)
        {
            return spans;
        }

        if (spans.Count < MostSpans)
        {
            spans.Add(now > _last.From ? _last with { To = now } : _last);
        }
        else
        {
            notListed++;
        }

        return spans;
    }

    /// <summary>A copy whose growth leaves this as it is.</summary>
    public UniverseHistory Copy()
    {
        UniverseHistory copy = (UniverseHistory)MemberwiseClone();
        copy._spans = _spans is null ? null : [.. _spans];
        copy._changes = _changes is null ? null : [.. _changes];
        return copy;
    }

    private static bool Same(ReadOnlySpan<int> indexes, IReadOnlyList<int> kept)
    {
        if (indexes.Length != kept.Count)
        {
            return false;
        }

        for (int i = 0; i < indexes.Length; i++)
        {
            if (indexes[i] != kept[i])
            {
                return false;
            }
        }

        return true;
    }

    private void Add(ObeyedSpan span)
    {
        _spans ??= [];
        if (_spans.Count < MostSpans)
        {
            _spans.Add(span);
        }
        else
        {
            _spansNotListed++;
        }
    }
}
