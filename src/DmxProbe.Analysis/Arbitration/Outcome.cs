namespace DmxProbe.Analysis.Arbitration;

/// <summary>Who decides a slot and why, kept once for all slots of which it is true.</summary>
internal sealed class Outcome(Claim[] claims, WinRule rule)
{
    /// <summary>Nobody sends the universe.</summary>
    public static Outcome Nobody { get; } = new([], WinRule.Nobody);

    /// <summary>Those that decide; one that is gone since keeps its last levels.</summary>
    public Claim[] Claims { get; } = claims;

    /// <summary>Why.</summary>
    public WinRule Rule { get; } = rule;

    /// <summary>As <see cref="SlotCase.IsDecided"/>.</summary>
    public bool IsDecided => Rule is not (WinRule.EqualPriority or WinRule.ReservedPriority or WinRule.NotListed);

    /// <summary>Indexes of their senders, ascending.</summary>
    public int[] Senders { get; } = [.. claims.Select(claim => claim.Sender).Distinct().Order()];

    /// <summary>The level that comes of it, from 0; -1 where it is not known, -2 where receivers hold what they have.</summary>
    public int Level(int slot)
    {
        if (Claims.Length == 0)
        {
            return Rule == WinRule.NotSourced ? 0 : -2;
        }

        int highest = -1;
        int lowest = int.MaxValue;
        foreach (Claim claim in Claims)
        {
            int level = claim.Level(slot);
            highest = Math.Max(highest, level);
            lowest = Math.Min(lowest, level);
        }

        // Where receivers differ, the level is known only if it is the same whomever they take.
        return Rule is WinRule.HighestValue or WinRule.EqualValue || highest == lowest ? highest : -1;
    }

    /// <summary>Whether the same senders decide.</summary>
    public bool IsBySameSenders(Outcome other) => ReferenceEquals(this, other) || Senders.AsSpan().SequenceEqual(other.Senders);
}
