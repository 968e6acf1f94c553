using DmxProbe.Capture.Filters;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Ask;

/// <summary>The inputs of a command that listens twice: first for the capture, then while it asks. No port is held twice.</summary>
/// <param name="words">The inputs as they were named.</param>
/// <param name="live">How to listen.</param>
internal sealed class HeldCapture(IReadOnlyList<string> words, LiveAsked live) : IDisposable
{
    private ICaptureSource? _capture;

    /// <summary>Opens the capture, which is closed with this or by <see cref="ListenOn"/>.</summary>
    /// <exception cref="UsageException">An option does not serve the inputs.</exception>
    /// <exception cref="InputException">One cannot be opened.</exception>
    public ICaptureSource Open() => _capture = Inputs.OpenDated(words, live);

    /// <summary>Closes the capture and opens its live inputs anew, without an end; the caller closes them.</summary>
    /// <exception cref="InputException">One cannot be opened.</exception>
    public ICaptureSource ListenOn()
    {
        Dispose();
        LiveAsked quiet = live with { Settings = live.Settings with { Tell = _ => { } } };
        List<ICaptureSource> sources = [];
        try
        {
            sources.AddRange(words.Where(Inputs.IsLive).Select(word => Inputs.Open(word, quiet)));
            return sources.Count == 1 ? sources[0] : new MergedSource(sources);
        }
        catch
        {
            sources.ForEach(source => source.Dispose());
            throw;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _capture?.Dispose();
        _capture = null;
    }
}
