namespace DmxProbe.Capture.Recording;

/// <summary>How fast a recording grows: over about the last ten seconds. Under the recorder's lock.</summary>
internal sealed class RateMeter(TimeProvider clock)
{
    private const int Looks = 10;

    private readonly Queue<(long At, long Octets, long Records)> _looks = new([(clock.GetTimestamp(), 0, 0)]);
    private long _octets;
    private long _records;

    /// <summary>Records a second.</summary>
    public double RecordsPerSecond { get; private set; }

    /// <summary>Octets a second.</summary>
    public double OctetsPerSecond { get; private set; }

    /// <summary>Tells how much there is.</summary>
    public void Add(long octets, long records)
    {
        _octets = octets;
        _records = records;
    }

    /// <summary>Called about once a second.</summary>
    public void Look()
    {
        (long at, long octets, long records) = _looks.Peek();
        double seconds = clock.GetElapsedTime(at).TotalSeconds;
        if (seconds > 0)
        {
            OctetsPerSecond = (_octets - octets) / seconds;
            RecordsPerSecond = (_records - records) / seconds;
        }

        _looks.Enqueue((clock.GetTimestamp(), _octets, _records));
        if (_looks.Count > Looks)
        {
            _looks.Dequeue();
        }
    }
}
