using System.Runtime.InteropServices;

using DmxProbe.Cli;

using Terminal.Gui.App;

namespace DmxProbe.Tui;

/// <summary>One run on a real terminal: the analyzers on a thread of their own, the screen on this one.</summary>
internal static class ScreenRun
{
    // The terminal may have gone, and whoever writes to it may never come back.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan Farewell = TimeSpan.FromSeconds(5);

    /// <summary>Shows the screen until the person leaves, the terminal goes or the process is told to stop.</summary>
    /// <param name="source">What to run.</param>
    /// <param name="screen">What to show.</param>
    /// <param name="color">Whether to use colour.</param>
    /// <param name="stop">Ends the source; cancelled when the person leaves.</param>
    /// <returns>The newest picture; null when nothing was heard.</returns>
    public static RigPicture? Show(SnapshotSource source, Screen screen, bool color, CancellationTokenSource stop)
    {
        RigPicture? latest = null;
        Exception? failed = null;
        Action? come = null;
        Thread pipeline = new(() =>
        {
            try
            {
                source.Run(picture =>
                {
                    Volatile.Write(ref latest, picture);
                    Volatile.Read(ref come)?.Invoke();
                }, stop.Token, stays: true);
            }
#pragma warning disable CA1031 // told on the caller's thread: an exception of this thread would end the process with the terminal in disorder
            catch (Exception problem)
#pragma warning restore CA1031
            {
                failed = problem;
                Volatile.Read(ref come)?.Invoke();
            }
        })
        { IsBackground = true, Name = "pipeline" };

        Loop(screen, () => Volatile.Read(ref latest), color, stop, () => failed is null, wake =>
        {
            Volatile.Write(ref come, wake);
            pipeline.Start();
        });
        Volatile.Write(ref come, null);
        stop.Cancel();
        pipeline.Join(Farewell);
        return failed is null ? latest : throw new IOException(failed.Message, failed);
    }

    /// <summary>Shows a recording until the person leaves, the terminal goes or the process is told to stop.</summary>
    /// <param name="review">The recording.</param>
    /// <param name="screen">What to show.</param>
    /// <param name="color">Whether to use colour.</param>
    /// <param name="clock">The clock it plays by.</param>
    /// <param name="stop">Cancelled when the person leaves.</param>
    public static void Show(ReviewPictures review, Screen screen, bool color, TimeProvider clock, CancellationTokenSource stop)
    {
        long before = clock.GetTimestamp();
        Loop(screen, review.Picture, color, stop, () =>
        {
            long now = clock.GetTimestamp();
            review.Line.Pass(clock.GetElapsedTime(before, now));
            before = now;
            return true;
        }, _ => { });
        stop.Cancel();
    }

    /// <summary>Shows a screen that needs no input until the person leaves, the terminal goes or the process is told to stop.</summary>
    /// <param name="screen">The screen.</param>
    /// <param name="color">Whether to use colour.</param>
    /// <param name="stop">Cancelled when the person leaves.</param>
    public static void Show(Screen screen, bool color, CancellationTokenSource stop)
    {
        Loop(screen, () => null, color, stop, () => true, _ => { });
        stop.Cancel();
    }

    private static void Loop(Screen screen, Func<RigPicture?> latest, bool color, CancellationTokenSource stop, Func<bool> goesOn, Action<Action> begin)
    {
        using Timer impatience = new(_ => Environment.Exit(ExitCode.Interrupted));
        ScreenPace? pace = null;
        using IApplication app = Application.Create();
        PatientInput? input = PatientInput.PutInto(app, () => Volatile.Read(ref pace)?.Key());
#pragma warning disable RS0030 // only for when to look and draw; nothing that is shown depends on it
        ScreenPace turns = new(TimeProvider.System, input is not null);
#pragma warning restore RS0030
        Volatile.Write(ref pace, turns);

        // Turns are taken when the pace says, not when the library does.
        Application.MaximumIterationsPerSecond = ushort.MaxValue;
        app.Init();
        app.Driver!.Force16Colors = true;
        using ScreenWindow window = new(screen, latest, color);
        using PosixSignalRegistration hangUp = PosixSignalRegistration.Create(PosixSignal.SIGHUP, signal => Leave(signal, stop, impatience));
        using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, signal => Leave(signal, stop, impatience));
        using PosixSignalRegistration? resized = OperatingSystem.IsWindows() ? null : PosixSignalRegistration.Create(PosixSignal.SIGWINCH, _ => turns.Wake());
        app.Iteration += (_, _) =>
        {
            turns.Wait();
            if (stop.IsCancellationRequested || !goesOn())
            {
                app.RequestStop();
            }

            window.Refresh();
        };
        begin(turns.Wake);
        try
        {
            app.Run(window);
        }
        finally
        {
            input?.End();
        }

        Volatile.Write(ref pace, null);
    }

    private static void Leave(PosixSignalContext signal, CancellationTokenSource stop, Timer impatience)
    {
        signal.Cancel = true;
        impatience.Change(Patience, System.Threading.Timeout.InfiniteTimeSpan);
        stop.Cancel();
    }
}
