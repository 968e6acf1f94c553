using System.CommandLine;
using System.Diagnostics;
using System.Reflection;

using DmxProbe.Cli.Help;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli;

/// <summary>The whole program as one function: arguments in, text and an exit code out.</summary>
internal static class DmxProbeProgram
{
    private const string Name = "dmxprobe";

    /// <summary>The program's version, without build metadata.</summary>
    public static string Version { get; } =
        typeof(DmxProbeProgram).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!
            .InformationalVersion.Split('+')[0];

    /// <summary>Runs the program. Throws nothing but what writing to the host's own writers throws.</summary>
    public static int Run(IReadOnlyList<string> args, ProgramHost host)
    {
        string? left = null;
        try
        {
            int code = Dispatch(args, host with { SaysOnStop = said => left = said });
            host.Output.Flush();
            return code;
        }
        catch (Exception ended) when (ended is OperationCanceledException || host.Stop.IsCancellationRequested)
        {
            if (left is not null)
            {
                host.Error.WriteLine($"{Name}: stopped; {left}.");
                host.Error.Flush();
            }

            return ExitCode.Interrupted;
        }
        catch (UsageException refused)
        {
            return Refuse(host, refused.Message);
        }
        catch (InputException unreadable)
        {
            return Refuse(host, unreadable.Message);
        }
        catch (OutputClosedException)
        {
            return ExitCode.CouldNotRun;
        }
        catch (Exception unexpected) when (unexpected is IOException or UnauthorizedAccessException)
        {
            return Refuse(host, "reading failed: " + unexpected.Message + " Check the disk or the connection, then run it again");
        }
#pragma warning disable CA1031 // the last resort: whatever happened, a person gets one sentence and no stack trace
        catch (Exception bug)
#pragma warning restore CA1031
        {
            string place = new StackTrace(bug).GetFrame(0) is StackFrame frame && DiagnosticMethodInfo.Create(frame) is DiagnosticMethodInfo method
                ? $"{method.DeclaringTypeName?.Split('.')[^1]}.{method.Name}" : "an unknown place";
            return Refuse(
                host,
                $"a fault of this program, not of your capture ({bug.GetType().Name} in {place}); please report it with the command you gave");
        }
    }

    private static int Dispatch(IReadOnlyList<string> args, ProgramHost host)
    {
        ProbeRootCommand root = new(host);
        ParseResult parsed = root.Parse(args, new ParserConfiguration { EnablePosixBundling = false, ResponseFileTokenReplacer = null });
        if (parsed.GetResult(root.Help) is { Implicit: false })
        {
            HelpPage.Write(parsed.CommandResult.Command, host);
            return ExitCode.Clean;
        }

        if (parsed.GetResult(root.VersionShown) is { Implicit: false })
        {
            host.Output.WriteLine(Name + " " + Version);
            return ExitCode.Clean;
        }

        if (args.Count == 0)
        {
            HelpPage.Write(root, host);
            return ExitCode.CouldNotRun;
        }

        if (ParseSentence.UnknownOption(parsed, args) is string unknown)
        {
            throw new UsageException(unknown);
        }

        if (ParseSentence.EmptyValue(parsed) is string empty)
        {
            throw new UsageException(empty);
        }

        if (parsed.Errors.Count > 0 || parsed.Action is null)
        {
            throw new UsageException(ParseSentence.For(parsed));
        }

        return parsed.Invoke(new InvocationConfiguration
        {
            Output = host.Output,
            Error = host.Error,
            EnableDefaultExceptionHandler = false,
            ProcessTerminationTimeout = null,
        });
    }

    private static int Refuse(ProgramHost host, string sentence)
    {
        string text = Printable.Text(sentence);
        host.Error.WriteLine(Name + ": " + Figures.Ended(text));
        host.Error.Flush();
        return ExitCode.CouldNotRun;
    }
}
