using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Universes;

/// <summary>Counts small values that are nearly always the same one: a comparison and an increment when it repeats.</summary>
internal struct ValueTally
{
    private Dictionary<int, long>? _others;
    private int _last;
    private long _lastCount;

    /// <summary>Counts a value.</summary>
    public void Add(int value) => Add(value, 1);

    /// <summary>Counts a value several times.</summary>
    public void Add(int value, long times)
    {
        if (_lastCount > 0 && value == _last)
        {
            _lastCount += times;
            return;
        }

        Store();
        _last = value;
        _lastCount = times;
    }

    /// <summary>The counts by value.</summary>
    public readonly IReadOnlyList<CountOf> Snapshot()
    {
        SortedDictionary<int, long> all = _others is null ? [] : new SortedDictionary<int, long>(_others);
        if (_lastCount > 0)
        {
            all[_last] = all.GetValueOrDefault(_last) + _lastCount;
        }

        return [.. all.Select(pair => new CountOf(pair.Key, pair.Value))];
    }

    private void Store()
    {
        if (_lastCount > 0)
        {
            _others ??= [];
            _others[_last] = _others.GetValueOrDefault(_last) + _lastCount;
        }
    }
}
