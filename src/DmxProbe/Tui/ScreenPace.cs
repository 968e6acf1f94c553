namespace DmxProbe.Tui;

/// <summary>
/// When the screen takes its next turn: at once when something has come, never more than about ten times a second, less
/// often where the terminal takes long to be drawn on, and now and then for what needs no cause.
/// </summary>
/// <param name="clock">The clock.</param>
/// <param name="patient">Whether a key wakes it; else it has to look for keys itself.</param>
internal sealed class ScreenPace(TimeProvider clock, bool patient)
{
    private static readonly TimeSpan Least = TimeSpan.FromMilliseconds(90);
    private static readonly TimeSpan Starting = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan StartingTurn = TimeSpan.FromMilliseconds(10);

    // A lone Esc is told from the beginning of another key by what does not follow it.
    private static readonly TimeSpan AfterKey = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan Most = TimeSpan.FromMilliseconds(350);
    private const int ShareOfTime = 4;

    // Monitors, not handles: a picture may still come when the screen has gone.
    private readonly object _waits = new();
    private readonly object _rests = new();
    private readonly long _begun = clock.GetTimestamp();
    private long _turn = clock.GetTimestamp();
    private long _key = long.MinValue;
    private bool _come;

    /// <summary>Something has come: a picture, another size.</summary>
    public void Wake()
    {
        lock (_waits)
        {
            _come = true;
            Monitor.Pulse(_waits);
        }
    }

    /// <summary>A key has come.</summary>
    public void Key()
    {
        Volatile.Write(ref _key, clock.GetTimestamp());
        Wake();
    }

    /// <summary>Waits for the next turn; called at its beginning.</summary>
    public void Wait()
    {
        long ended = clock.GetTimestamp();
        TimeSpan drawn = clock.GetElapsedTime(_turn, ended);
        bool starts = clock.GetElapsedTime(_begun, ended) < Starting;
        long key = Volatile.Read(ref _key);
        bool soon = !patient || (key != long.MinValue && clock.GetElapsedTime(key, ended) < AfterKey);
        TimeSpan rest = starts ? StartingTurn : drawn * ShareOfTime > Least ? drawn * ShareOfTime : Least;
        lock (_rests)
        {
            Monitor.Wait(_rests, rest < Most ? rest : Most);
        }

        lock (_waits)
        {
            if (!starts && !soon && !_come)
            {
                Monitor.Wait(_waits, Most - Least);
            }

            _come = false;
        }

        _turn = clock.GetTimestamp();
    }
}
