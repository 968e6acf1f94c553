namespace DmxProbe.Tests.Cli;

/// <summary>A clock on which two seconds pass at each look; at a given look somebody presses Ctrl-C.</summary>
internal sealed class Hurrying(int pressAt = int.MaxValue, CancellationTokenSource? stop = null) : TimeProvider
{
    private int _looks;

    public bool IsMeasuring { get; init; }

    public long Most { get; private set; }

    public override long TimestampFrequency => 1;

    public override long GetTimestamp()
    {
        if (++_looks == pressAt)
        {
            stop!.Cancel();
        }

        if (IsMeasuring && _looks % 4 == 0)
        {
            Most = Math.Max(Most, GC.GetTotalMemory(forceFullCollection: true));
        }

        return 2 * _looks;
    }
}
