using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>The senders of one contest, each at a place of its own. Bounded: a further sender displaces a weaker one or finds no place.</summary>
internal sealed class ClaimPlaces
{
    /// <summary>Most senders that are weighed at a time.</summary>
    public const int Most = 64;

    private Claim?[] _places = new Claim?[4];

    /// <summary>By place; null where it is free.</summary>
    public Claim?[] All => _places;

    /// <summary>The sender of a stream; null where it has no place.</summary>
    public Claim? Find(int stream)
    {
        foreach (Claim? claim in _places)
        {
            if (claim?.Stream == stream)
            {
                return claim;
            }
        }

        return null;
    }

    /// <summary>The only sender; null where there are none or several.</summary>
    public Claim? Single()
    {
        Claim? single = null;
        foreach (Claim? claim in _places)
        {
            if (claim is not null)
            {
                if (single is not null)
                {
                    return null;
                }

                single = claim;
            }
        }

        return single;
    }

    /// <summary>Gives a sender a place.</summary>
    /// <param name="claim">The sender.</param>
    /// <param name="displaced">The weaker one that lost its place for it; null where one was free.</param>
    /// <returns>False where all places hold senders as strong.</returns>
    public bool TryAdd(Claim claim, out Claim? displaced)
    {
        displaced = null;
        int free = Array.IndexOf(_places, null);
        if (free < 0 && _places.Length < Most)
        {
            free = _places.Length;
            Array.Resize(ref _places, free * 2);
        }

        if (free < 0)
        {
            // A flood of weak senders must not hide a strong one.
            int weakest = 0;
            for (int i = 1; i < _places.Length; i++)
            {
                weakest = _places[i]!.Priority < _places[weakest]!.Priority ? i : weakest;
            }

            if (_places[weakest]!.Priority >= claim.Priority)
            {
                return false;
            }

            displaced = _places[weakest];
            free = weakest;
        }

        claim.Place = free;
        _places[free] = claim;
        return true;
    }

    /// <summary>Frees the place of a sender.</summary>
    public void Remove(Claim claim) => _places[claim.Place] = null;

    /// <summary>The sender whose levels or per-address priorities run out first; null where none do.</summary>
    /// <param name="now">By when.</param>
    /// <param name="loss">After how long without levels a sender is lost.</param>
    /// <param name="at">Earlier than this; then when they do.</param>
    /// <param name="isPriority">Whether it is the per-address priorities.</param>
    public Claim? Due(Timestamp now, Duration loss, ref Timestamp at, out bool isPriority)
    {
        Claim? due = null;
        isPriority = false;
        foreach (Claim? claim in _places)
        {
            if (claim is null)
            {
                continue;
            }

            if (claim.IsLive && now - claim.Last > loss && claim.Last + loss < at)
            {
                (due, isPriority, at) = (claim, false, claim.Last + loss);
            }

            if (claim.HasAddressPriority && now - claim.LastAddressPriority > ProtocolTimes.SacnLoss
                && claim.LastAddressPriority + ProtocolTimes.SacnLoss < at)
            {
                (due, isPriority, at) = (claim, true, claim.LastAddressPriority + ProtocolTimes.SacnLoss);
            }
        }

        return due;
    }

    /// <summary>Nobody was heard until a moment, and nobody is gone for that.</summary>
    public void Hold(Timestamp until)
    {
        foreach (Claim? claim in _places)
        {
            claim?.Hold(until);
        }
    }

    /// <summary>A copy that holds other claims.</summary>
    /// <param name="other">For each claim its copy.</param>
    public ClaimPlaces Copy(Func<Claim, Claim> other)
    {
        ClaimPlaces copy = new();
        copy._places = [.. _places.Select(claim => claim is null ? null : other(claim))];
        return copy;
    }
}
