using System.CommandLine;

namespace DmxProbe.Cli;

/// <summary>A command with what its help page says beyond its arguments.</summary>
internal class ProbeCommand(string name, string description) : Command(name, description)
{
    /// <summary>Whole command lines that work, each with what it does.</summary>
    public IReadOnlyList<(string Line, string What)> Examples { get; init; } = [];

    /// <summary>What each exit code means here.</summary>
    public IReadOnlyList<(int Code, string Meaning)> ExitCodes { get; init; } = [];

    /// <summary>More to know, a paragraph each.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}
