using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>
/// Levels on a line, told apart by whether RDM passed: an interval between two packets of levels counts as polled when RDM
/// came in it, or lies between RDM packets that are no more than a second apart. A value type: the state of every universe
/// is one array.
/// </summary>
internal struct LevelsBesideRdm
{
    private const int FewestQuiet = 20;
    private const int FewestPolled = 5;

    // A pause longer than this without RDM is the sender's, not a rate.
    private static readonly Duration Pause = Duration.FromSeconds(1);

    private long _levels;
    private long _rdm;
    private long _quiet;
    private Duration _quietTime;
    private long _polled;
    private Duration _polledTime;
    private long _open;
    private Duration _openTime;
    private Duration _longest;
    private Timestamp _longestFrom;
    private Timestamp _lastLevels;
    private Timestamp _lastRdm;
    private bool _hasLevels;
    private bool _hasRdm;
    private bool _rdmSince;
    private bool _lastWasLevels;
    private int _lastSlots;
    private int _mostSlots;
    private long _short;
    private RdmSpan? _shortSeen;

    /// <summary>A packet of levels.</summary>
    public void Levels(Timestamp time, int slots, bool isCut)
    {
        if (_hasLevels && time >= _lastLevels)
        {
            Interval(time - _lastLevels);
        }

        _levels++;
        _hasLevels = true;
        _lastLevels = time;
        _rdmSince = false;
        _lastWasLevels = !isCut;
        _lastSlots = slots;
        _mostSlots = Math.Max(_mostSlots, slots);
    }

    /// <summary>An RDM packet.</summary>
    public void Rdm(Timestamp time, long record)
    {
        _rdm++;
        Settle(isPolled: _hasRdm && time - _lastRdm <= Pause);
        if (_lastWasLevels && 2 * _lastSlots < _mostSlots)
        {
            _short++;
            _shortSeen = RdmSpan.Longer(_shortSeen, _lastLevels, record);
        }

        _lastWasLevels = false;
        _hasRdm = true;
        _rdmSince = true;
        _lastRdm = time;
    }

    /// <summary>What the intervals say; null where no levels or no RDM came.</summary>
    public readonly RdmShare? Snapshot() => _levels == 0 || _rdm == 0 ? null : new RdmShare(
        _levels,
        _rdm,
        _quiet + _open >= FewestQuiet ? Rate(_quiet + _open, _quietTime + _openTime) : null,
        _polled >= FewestPolled ? Rate(_polled, _polledTime) : null,
        _longest,
        _longestFrom,
        _short,
        _mostSlots)
    {
        ShortSeen = _shortSeen,
    };

    private static double? Rate(long count, Duration time) => time > Duration.Zero ? count / time.TotalSeconds : null;

    private void Interval(Duration interval)
    {
        if (_rdmSince)
        {
            _polled++;
            _polledTime += interval;
            if (interval > _longest)
            {
                _longest = interval;
                _longestFrom = _lastLevels;
            }
        }
        else if (interval <= Pause)
        {
            // Whether RDM goes on is not known yet.
            _open++;
            _openTime += interval;
        }
    }

    private void Settle(bool isPolled)
    {
        if (isPolled)
        {
            _polled += _open;
            _polledTime += _openTime;
        }
        else
        {
            _quiet += _open;
            _quietTime += _openTime;
        }

        _open = 0;
        _openTime = Duration.Zero;
    }
}
