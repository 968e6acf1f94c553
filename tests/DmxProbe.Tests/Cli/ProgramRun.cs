using System.Runtime.CompilerServices;

using DmxProbe.Cli;
using DmxProbe.Testing.Files;

namespace DmxProbe.Tests.Cli;

/// <summary>Runs the real program in this process, as from the top of the repository, without colour.</summary>
internal sealed record ProgramRun(int Code, string Output, string Error)
{
    public static ProgramRun Of(params string[] args) => At(120, args);

    public static ProgramRun At(int width, params string[] args) => With(width, color: false, TimeZoneInfo.Utc, default, args);

    /// <summary>The same with a person who answers what is asked.</summary>
    public static ProgramRun Asked(Func<string, string?> person, params string[] args)
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringWriter error = new() { NewLine = "\n" };
        using PersonReader input = new(args.Contains("--json") ? error : output, person);
        int code = DmxProbeProgram.Run(args, new ProgramHost(output, error, 120, false, TimeZoneInfo.Utc, default) { Input = input });
        return new ProgramRun(code, output.ToString(), error.ToString());
    }

    public static ProgramRun With(int width, bool color, TimeZoneInfo zone, CancellationToken stop, params string[] args)
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringWriter error = new() { NewLine = "\n" };
        int code = DmxProbeProgram.Run(args, new ProgramHost(output, error, width, color, zone, stop));
        return new ProgramRun(code, output.ToString(), error.ToString());
    }

    /// <summary>The whole error output must be one sentence on one line, and there is no answer.</summary>
    public string Refusal()
    {
        Assert.Equal(2, Code);
        Assert.Equal("", Output);
        Assert.StartsWith("dmxprobe: ", Error, StringComparison.Ordinal);
        Assert.Matches("[^.?!][.?]\n$", Error);
        Assert.Equal(1, Error.Count(character => character == '\n'));
        Assert.DoesNotContain("   at ", Error, StringComparison.Ordinal);
        return Error["dmxprobe: ".Length..^1];
    }

    // Names of inputs are printed as given: goldens need them without a folder of this machine.
    [ModuleInitializer]
    internal static void StartAtTheTop() => Environment.CurrentDirectory = Places.Repository;
}
