using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Ask;

/// <summary>
/// Listens on while questions are asked, so that an answer is weighed with what was really sent. The inputs are opened anew: what
/// came before is over and answered for.
/// </summary>
/// <param name="open">Opens the live inputs.</param>
internal sealed class AskWire(Func<ICaptureSource> open) : IAskWire, IDisposable
{
    private static readonly TimeSpan LongestEnding = TimeSpan.FromSeconds(3);

    private readonly CancellationTokenSource _stop = new();
    private readonly LatestLevels _latest = new();
    private ICaptureSource? _source;
    private Thread? _thread;
    private volatile bool _gone;

    /// <inheritdoc/>
    public void Start()
    {
        ICaptureSource source = open();
        _source = source;
        _thread = new Thread(() => Listen(source)) { IsBackground = true, Name = "wire" };
        _thread.Start();
    }

    /// <inheritdoc/>
    public IReadOnlyList<byte[]>? Levels(IReadOnlyList<UniverseId> universes, IReadOnlyList<byte[]> otherwise) =>
        _gone ? null : IAskWire.Of(_latest, universes, otherwise);

    /// <inheritdoc/>
    public int Deciding(UniverseId universe) => _gone ? 0 : _latest.Deciding(universe);

    /// <inheritdoc/>
    public bool FellSilent(UniverseId universe) => !_gone && _latest.FellSilent(universe);

    /// <inheritdoc/>
    public void Dispose()
    {
        _stop.Cancel();
        if (_thread?.Join(LongestEnding) != false)
        {
            _source?.Dispose();
            _stop.Dispose();
        }
    }

    private void Listen(ICaptureSource source)
    {
        try
        {
            new Session(source, new RecordDecoder(), _latest).Run(_stop.Token);
        }
        catch (Exception failure) when (failure is InputException or IOException)
        {
            // Nothing is known of the wire any more: answers count as what was asked for.
            _gone = true;
        }
    }
}
