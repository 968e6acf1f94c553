namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>How the places stand: the best, those that no evidence tells from it, and the few that hold nearly everything.</summary>
public sealed class AskStanding
{
    /// <summary>Smallest probability of a claim.</summary>
    public const double Claim = 0.99;

    private const int MostMembers = 50;
    private const int LargestSet = 6;
    private const double LeastMember = 1e-3;

    private AskStanding(int best, IReadOnlyList<int> members, double score, IReadOnlyList<int> set, int runnerUp, double none)
    {
        Best = best;
        Members = members;
        Score = score;
        Set = set;
        RunnerUp = runnerUp;
        None = none;
    }

    /// <summary>The most likely place, "none of these" set aside.</summary>
    public int Best { get; }

    /// <summary>The best and all of some weight that no evidence tells from it.</summary>
    public IReadOnlyList<int> Members { get; }

    /// <summary>Their probability together.</summary>
    public double Score { get; }

    /// <summary>The smallest set that holds <see cref="Claim"/>, when it has at most six members; else empty.</summary>
    public IReadOnlyList<int> Set { get; }

    /// <summary>The most likely place outside the members; -1 when there is none.</summary>
    public int RunnerUp { get; }

    /// <summary>Probability of "none of these".</summary>
    public double None { get; }

    /// <summary>Whether the best alone may be claimed.</summary>
    public bool IsSingle => Members.Count > 0 && Single >= Claim;

    /// <summary>Whether the members together may be claimed.</summary>
    public bool IsClass => Score >= Claim;

    private double Single { get; init; }

    /// <summary>Looks at a posterior.</summary>
    public static AskStanding Of(AskPosterior posterior)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ReadOnlySpan<double> probability = posterior.Span;
        int[] likely = Likely.Of(posterior, MostMembers);
        int best = likely[0];
        List<int> members = [];
        List<int> set = [];
        int runnerUp = -1;
        double score = 0;
        double held = 0;
        foreach (int index in likely)
        {
            bool same = index == best || (probability[index] >= LeastMember && posterior.Evidence.All(piece => piece.IsSame(index, best)));
            if (same)
            {
                members.Add(index);
                score += probability[index];
            }
            else if (runnerUp < 0)
            {
                runnerUp = index;
            }

            if (held < Claim)
            {
                set.Add(index);
                held += probability[index];
            }
        }

        bool small = held >= Claim && set.Count <= LargestSet;
        return new AskStanding(best, members, score, small ? set : [], runnerUp, probability[^1]) { Single = probability[best] };
    }
}
