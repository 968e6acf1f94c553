namespace DmxProbe.Fixtures.Addressing;

/// <summary>Collects candidates; errors that lead to one place add up.</summary>
internal sealed class CandidateList
{
    private readonly Dictionary<(int Universe, int Address, string? Mode), List<(string Explanation, double Weight)>> _candidates = [];

    public static bool IsAddress(int address) => address is >= 1 and <= 512;

    /// <summary>Adds a candidate, unless no unit could be set to it.</summary>
    public void Add(int universe, int address, string? mode, string explanation, double weight)
    {
        if (universe < 0 || !IsAddress(address))
        {
            return;
        }

        if (!_candidates.TryGetValue((universe, address, mode), out List<(string Explanation, double Weight)>? causes))
        {
            _candidates[(universe, address, mode)] = causes = [];
        }

        causes.Add((explanation, weight));
    }

    /// <summary>The candidates, heaviest first, ties by place.</summary>
    public IReadOnlyList<AddressCandidate> Sorted() => [.. _candidates
        .Select(pair => new AddressCandidate(pair.Key.Universe, pair.Key.Address, pair.Key.Mode,
            [.. pair.Value.OrderByDescending(cause => cause.Weight).Select(cause => cause.Explanation).Distinct()], pair.Value.Sum(cause => cause.Weight)))
        .OrderByDescending(candidate => candidate.Weight)
        .ThenBy(candidate => candidate.Universe).ThenBy(candidate => candidate.Address).ThenBy(candidate => candidate.Mode, StringComparer.Ordinal)];
}
