using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Tui;

namespace DmxProbe.Cli.Ask;

/// <summary>Puts the guided questions on the screen, one key for each answer.</summary>
/// <param name="host">The process.</param>
/// <param name="zone">The zone of times.</param>
/// <param name="controller">What is at hand; null: it is asked.</param>
/// <param name="log">The decision log; null = none.</param>
/// <param name="wire">The live inputs; null where there are only files.</param>
/// <param name="color">Whether to use colour.</param>
internal sealed class AskScreen(ProgramHost host, TimeZoneInfo zone, AskController? controller, AskLog? log, IAskWire? wire, bool color)
{
    /// <summary>Whether the decision is in the log already.</summary>
    public bool HasClosed { get; private set; }

    /// <summary>Asks until the answer is there or the person leaves; null where nothing was asked because an audience is in.</summary>
    /// <exception cref="UsageException">What is at hand does not serve.</exception>
    public AskSession? Run(LocateGathered gathered)
    {
        LocateGuide guide = new(gathered.About.Unit.Unit, () => gathered, controller, log, host.Clock, ScreenGuides.Apart, wire);
        ScreenGuides guides = new(null, log, zone, host.Clock);
        guides.Open(guide);
        using ScreenWish wish = new();

        // Ctrl-C may have ended the listening; on the screen it is a key and ends that.
        CancellationToken ended = host.Stop.IsCancellationRequested ? CancellationToken.None : host.Stop;
        using CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(ended);
        Screen screen = new(new ScreenSheet(null, null), zone, wish, null, guides);
        screen.State.View = ScreenView.Locate;
        ScreenRun.Show(screen, color, stop);
        ended.ThrowIfCancellationRequested();
        HasClosed = guide.IsClosed;
        return guide.Problem.Length > 0 ? throw new UsageException(guide.Problem) : guide.Session;
    }
}
