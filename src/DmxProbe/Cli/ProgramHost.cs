using Spectre.Console;

namespace DmxProbe.Cli;

/// <summary>Everything the program takes from the process it runs in, so that a test can stand in for it.</summary>
/// <param name="Output">Answers.</param>
/// <param name="Error">Why there is no answer.</param>
/// <param name="Width">Columns to fill.</param>
/// <param name="Color">True when the terminal shows colour and nobody asked for none.</param>
/// <param name="Zone">The zone of local times.</param>
/// <param name="Stop">Ctrl-C.</param>
internal sealed record ProgramHost(
    TextWriter Output,
    TextWriter Error,
    int Width,
    bool Color,
    TimeZoneInfo Zone,
    CancellationToken Stop)
{
    /// <summary>What is left where a file is written whole or not at all.</summary>
    public const string NothingWritten = "nothing was written";

    /// <summary>The clock.</summary>
#pragma warning disable RS0030 // the program is where the system's clock is handed down from
    public TimeProvider Clock { get; init; } = TimeProvider.System;
#pragma warning restore RS0030

    /// <summary>True when the error output is a terminal: a line on it may be drawn over.</summary>
    public bool IsTerminal { get; init; }

    /// <summary>Lines that a person types.</summary>
    public TextReader Input { get; init; } = TextReader.Null;

    /// <summary>Waits for a key and does not show it; null where no keyboard is attached.</summary>
    public Func<ConsoleKeyInfo>? ReadKey { get; init; }

    /// <summary>Called by a command that ends in its own time after Ctrl-C, because it has something to put away.</summary>
    public Action EndsByItself { get; init; } = () => { };

    /// <summary>Called with what is said when Ctrl-C ends a command that writes a file: what it leaves.</summary>
    public Action<string> SaysOnStop { get; init; } = _ => { };

    /// <summary>Called when Ctrl-C is to bring the answer so far instead of ending the program: it then gets time to print it.</summary>
    public Action AnswerOnStop { get; init; } = () => { };

    private const int PipeWidth = 120;
    private const int UsualWidth = 80;
    private const int NarrowestUsable = 60;
    private const int WidestReadable = 160;

    /// <summary>The host of a real run.</summary>
    public static ProgramHost ForThisProcess(TextWriter output, TextWriter error, CancellationToken stop)
    {
        bool terminal = !Console.IsOutputRedirected;

        // Spectre knows which terminals show colour, and on Windows switches them to it.
        bool color = terminal
            && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"))
            && AnsiConsole.Console.Profile.Capabilities.Ansi;
        int width = terminal ? Math.Clamp(TerminalWidth(), NarrowestUsable, WidestReadable) : PipeWidth;
        return new ProgramHost(output, error, width, color, TimeZoneInfo.Local, stop)
        {
            IsTerminal = !Console.IsErrorRedirected,
            Input = Console.In,
            ReadKey = Console.IsInputRedirected ? null : () => Console.ReadKey(intercept: true),
        };
    }

    private static int TerminalWidth()
    {
        try
        {
            // A terminal that does not know its width says 0.
            return Console.WindowWidth is > 0 and int columns ? columns : UsualWidth;
        }
        catch (IOException)
        {
            return UsualWidth;
        }
    }
}
