using System.Text;

using DmxProbe.Cli;

namespace DmxProbe;

/// <summary>The entry point of the <c>dmxprobe</c> program: binds it to this process and its terminal.</summary>
internal static class Program
{
    private static int Main(string[] args)
    {
        using CancellationTokenSource stop = new();
        void Interrupt(object? sender, ConsoleCancelEventArgs pressed)
        {
            // The command ends itself; a second Ctrl-C ends the process at once.
            pressed.Cancel = !stop.IsCancellationRequested;
            stop.Cancel();
        }

        Console.CancelKeyPress += Interrupt;
        try
        {
            using StreamWriter output = Writer(Console.OpenStandardOutput());
            using StreamWriter error = Writer(Console.OpenStandardError());
            return DmxProbeProgram.Run(args, ProgramHost.ForThisProcess(output, error, stop.Token));
        }
        catch (IOException)
        {
            // Whoever read our output has gone (a pipe into `head`): nothing is left to say, and nobody to say it to.
            return ExitCode.CouldNotRun;
        }
        finally
        {
            Console.CancelKeyPress -= Interrupt;
        }
    }

    private static StreamWriter Writer(Stream stream) =>
        new(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false)) { NewLine = "\n" };
}
