namespace DmxProbe.Tui;

/// <summary>What the person looks at, so that the thread of the analyzers puts it into its pictures: one unit at most.</summary>
internal sealed class ScreenWish : IDisposable
{
    private readonly AutoResetEvent _changed = new(initialState: false);
    private volatile string? _unit;

    /// <summary>The unit looked at, as the sheet names it; null for none.</summary>
    public string? Unit
    {
        get => _unit;
        set
        {
            if (_unit != value)
            {
                _unit = value;
                _changed.Set();
            }
        }
    }

    /// <summary>Waits until another unit is wished.</summary>
    /// <returns>False when stopped.</returns>
    public bool Wait(CancellationToken stop) => WaitHandle.WaitAny([_changed, stop.WaitHandle]) == 0;

    /// <inheritdoc/>
    public void Dispose() => _changed.Dispose();
}
