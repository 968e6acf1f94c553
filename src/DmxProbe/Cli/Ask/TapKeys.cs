using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Ask;

/// <summary>The tap key: any key, pressed when the light reacts, while a live capture runs.</summary>
internal sealed class TapKeys(Func<ConsoleKeyInfo> readKey, TimeProvider clock)
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
        new Thread(Listen) { IsBackground = true, Name = "taps" }.Start();
    }

    /// <summary>Takes in one key.</summary>
    public void Press()
    {
        lock (_taps)
        {
            if (_taps.Count < Most)
            {
                _taps.Add(clock.Now());
            }
        }
    }

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
