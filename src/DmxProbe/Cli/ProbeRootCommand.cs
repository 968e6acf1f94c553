using System.CommandLine;

namespace DmxProbe.Cli;

/// <summary>The root of the command line: every command, and the options that all of them take.</summary>
internal sealed class ProbeRootCommand : RootCommand
{
    /// <summary>Builds the command line for one run.</summary>
    public ProbeRootCommand(ProgramHost host)
        : base("Finds out what is wrong with a lighting rig's DMX from what was really sent: Art-Net and sACN captures in, universes, senders, losses and faults out.")
    {
        // Directives and response files would give words like [diagram] or @name a meaning that a file name may have.
        Directives.Clear();
        Options.Clear();
        foreach (Option option in Common.InOrder)
        {
            Add(option);
        }

        Add(Help);
        Add(VersionShown);
        Add(DemoCommand.Create(Common, host));
        Add(InputsCommand.Create(Common, host));
        Add(SurveyCommand.Create(Common, host));
        Add(TimingCommand.Create(Common, host));
        Add(ExplainCommand.Create(Common, host));
        Add(LocateCommand.Create(Common, host));
        Add(TraceCommand.Create(Common, host));
        Add(WalkCommand.Create(Common, host));
        Add(WatchCommand.Create(Common, host));
        Add(DiagnoseCommand.Create(Common, host));
        Add(RecordCommand.Create(Common, host));
        Add(ReviewCommand.Create(Common, host));
        Add(CompareCommand.Create(Common, host));
        Add(PatchCommand.Create(Common, host));
        Add(ChartCommand.Create(Common, host));
        Add(ExportCommand.Create(Common, host));
        Add(ReportCommand.Create(Common, host));
    }

    /// <summary>Options that every command takes.</summary>
    public CommonOptions Common { get; } = new();

    /// <summary>The help option.</summary>
    public Option<bool> Help { get; } = new("--help", "-h") { Description = "Show this help; every command has its own.", Recursive = true };

    /// <summary>The version option.</summary>
    public Option<bool> VersionShown { get; } = new("--version") { Description = "Show the version." };
}
