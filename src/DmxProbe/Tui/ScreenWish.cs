using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Tui;

/// <summary>What the person looks at, so that the thread of the analyzers puts it into its pictures, and nothing that nobody sees.</summary>
internal sealed class ScreenWish : IDisposable
{
    private readonly AutoResetEvent _changed = new(initialState: false);
    private readonly Lock _lock = new();
    private Wished _wished = new(null, null, false);

    /// <summary>What is looked at. Asked with every frame, so without a lock.</summary>
    public Wished Now => Volatile.Read(ref _wished);

    /// <summary>The unit looked at, as the sheet names it; null for none.</summary>
    public string? Unit
    {
        get => Now.Unit;
        set => Set(value, Now.Universe, Now.Walks);
    }

    /// <summary>Takes over what is looked at. A function check that has begun goes on when the person looks elsewhere.</summary>
    /// <param name="unit">The unit, as the sheet names it; null for none.</param>
    /// <param name="universe">The universe whose slots are shown; null for none.</param>
    /// <param name="walks">Whether the function check is shown.</param>
    public void Set(string? unit, UniverseId? universe, bool walks)
    {
        lock (_lock)
        {
            Wished next = new(unit, universe, walks || _wished.Walks);
            if (next == _wished)
            {
                return;
            }

            Volatile.Write(ref _wished, next);
        }

        _changed.Set();
    }

    /// <summary>Waits until something else is wished.</summary>
    /// <returns>False when stopped.</returns>
    public bool Wait(CancellationToken stop) => WaitHandle.WaitAny([_changed, stop.WaitHandle]) == 0;

    /// <inheritdoc/>
    public void Dispose() => _changed.Dispose();
}
