using System.Runtime.InteropServices;
using System.Text;

using DmxProbe.Cli;

namespace DmxProbe;

/// <summary>The entry point of the <c>dmxprobe</c> program: binds it to this process and its terminal.</summary>
internal static class Program
{
    // A command that is between two records ends at once; one that waits for a pipe to say something never looks.
    private const int PatienceMilliseconds = 500;

    // Live inputs: what was heard so far is still to be put together and printed.
    private const int AnswerMilliseconds = 30_000;

    private static int Main(string[] args)
    {
        using CancellationTokenSource stop = new();
        int interrupted = ExitCode.Interrupted;
        using Timer impatience = new(_ => Environment.Exit(interrupted));
        bool endsByItself = false;
        int patience = PatienceMilliseconds;
        void Interrupt(object? sender, ConsoleCancelEventArgs pressed)
        {
            // A second Ctrl-C ends the process at once.
            pressed.Cancel = !stop.IsCancellationRequested;
            stop.Cancel();
            if (!endsByItself)
            {
                impatience.Change(patience, Timeout.Infinite);
            }
        }

        // kill, or a service that is stopped: what was begun is put away as after Ctrl-C.
        void Terminate(PosixSignalContext signal)
        {
            signal.Cancel = !stop.IsCancellationRequested;
            interrupted = ExitCode.Terminated;
            stop.Cancel();
            impatience.Change(endsByItself ? AnswerMilliseconds : patience, Timeout.Infinite);
        }

        using PosixSignalRegistration terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Terminate);
        Console.CancelKeyPress += Interrupt;
        try
        {
            using StreamWriter output = Writer(Console.OpenStandardOutput());
            using StreamWriter error = Writer(Console.OpenStandardError());
            SpeakUtf8();
            int code = DmxProbeProgram.Run(args, ProgramHost.ForThisProcess(output, error, stop.Token) with
            {
                AnswerOnStop = () => patience = AnswerMilliseconds,
                EndsByItself = () => endsByItself = true,
            });
            return code == ExitCode.Interrupted ? interrupted : code;
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

    // A Windows console takes octets for its own code page unless told otherwise; elsewhere terminals speak UTF-8.
    private static void SpeakUtf8()
    {
        if (OperatingSystem.IsWindows() && !Console.IsOutputRedirected)
        {
            Console.OutputEncoding = Encoding.UTF8;
        }
    }
}
