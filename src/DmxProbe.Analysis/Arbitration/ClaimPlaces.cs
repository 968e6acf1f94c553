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

    /// <summary>A copy that holds other claims.</summary>
    /// <param name="other">For each claim its copy.</param>
    public ClaimPlaces Copy(Func<Claim, Claim> other)
    {
        ClaimPlaces copy = new();
        copy._places = [.. _places.Select(claim => claim is null ? null : other(claim))];
        return copy;
    }
}
