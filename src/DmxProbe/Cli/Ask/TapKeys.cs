using System.Globalization;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Ask;

/// <summary>The tap key: any key, pressed when the light reacts, while a live capture runs.</summary>
/// <param name="readKey">Waits for a key.</param>
/// <param name="clock">The clock of taps.</param>
/// <param name="tell">Takes what is said, a line each; null = nobody.</param>
/// <param name="length">How long it is listened; null = until Ctrl-C.</param>
internal sealed class TapKeys(Func<ConsoleKeyInfo> readKey, TimeProvider clock, Action<string>? tell = null, TimeSpan? length = null)
{
    private const int Most = 10_000;

    private readonly List<Timestamp> _taps = [];
    private Timestamp _begun;

    /// <summary>When tapping began.</summary>
    public Timestamp Begun => _begun;

    /// <summary>The taps so far.</summary>
    public IReadOnlyList<Timestamp> Taps
    {
        get
        {
            lock (_taps)
            {
                return [.. _taps];
            }
        }
    }

    /// <summary>Listens on a thread of its own, which ends with the process or with the keyboard.</summary>
    public void Start()
    {
        _begun = clock.Now();
        tell?.Invoke($"Press any key each time the light changes, {(length is TimeSpan whole ? $"for {Seconds(whole)} s" : "until Ctrl-C")}.");
        new Thread(Listen) { IsBackground = true, Name = "taps" }.Start();
    }

    /// <summary>Takes in one key.</summary>
    public void Press()
    {
        Timestamp now = clock.Now();
        int count;
        lock (_taps)
        {
            if (_taps.Count < Most)
            {
                _taps.Add(now);
            }

            count = _taps.Count;
        }

        double passed = (now - _begun).TotalSeconds;
        tell?.Invoke(string.Create(CultureInfo.InvariantCulture, $"tap {count}{(length is TimeSpan whole ? $", {Math.Max(0, whole.TotalSeconds - passed):0} s left" : "")}"));
    }

    private static string Seconds(TimeSpan time) => time.TotalSeconds.ToString("0.#", CultureInfo.InvariantCulture);

    private void Listen()
    {
        try
        {
            while (true)
            {
                _ = readKey();
                Press();
            }
        }
        catch (InvalidOperationException)
        {
            // The keyboard has gone: what was tapped stays.
        }
        catch (IOException)
        {
            // The same.
        }
    }
}
