using System.CommandLine;

using DmxProbe.Cli.Text;

namespace DmxProbe.Cli.Help;

/// <summary>The help of a command: what it answers, how to call it, an example, what the exit code means, what to mind.</summary>
internal static class HelpPage
{
    /// <summary>The credit that the Art-Net specification (1.4dn, page 21) asks for, word for word.</summary>
    public const string ArtNetCredit = "Art-Net™ Designed by and Copyright Artistic Licence";

    /// <summary>What a person must not do with this program.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "DmxProbe only listens; it sends nothing to any light. What it advises can still make a unit move, strike or flash: clear the people first.",
        "Not for life safety: never rely on it, or on DMX, for emergency lighting, hoists, pyro, or to say that something is safe to approach.",
        "Mains work (open covers, fuses, anything burnt or wet) is for licensed people. Local codes and house rules prevail over anything printed here.",
    ];

    /// <summary>Writes the help of a command.</summary>
    public static void Write(Command command, ProgramHost host)
    {
        TextPage page = new(host.Width, host.Color);
        page.Paragraph(command.Description ?? "");
        page.Blank();
        page.Heading("Usage");
        page.Paragraph(Usage(command), indent: 2);
        Section(page, "Commands", command.Subcommands.Where(sub => !sub.Hidden).Select(sub => (SubName(sub), sub.Description ?? "")));
        Section(page, "Words", command.Arguments.Select(argument => (argument.Name, argument.Description ?? "")));
        Section(page, "Options", OptionsOf(command).Select(option => (OptionName(option), option.Description ?? "")));
        if (command is ProbeCommand probe)
        {
            Section(page, "Example", probe.Examples.Select(example => (example.Line, example.What)));
            Section(page, "Exit code", probe.ExitCodes.Select(exit => (exit.Code.ToString(System.Globalization.CultureInfo.InvariantCulture), exit.Meaning)));
            foreach (string note in probe.Notes)
            {
                page.Blank();
                page.Paragraph(note);
            }
        }
        else
        {
            Section(page, "Example", [("dmxprobe demo", "shows what it does; needs nothing"), ("dmxprobe survey tonight.pcapng", "reads a capture")]);
            Section(page, "Exit code", [("0", "ran, nothing at fault"), ("1", "ran, faults found"), ("2", "could not run"), ("3", "locate: not enough evidence"), ("130", "ended by Ctrl-C without an answer")]);
        }

        page.Blank();
        page.Heading("Mind");
        foreach (string caution in Cautions)
        {
            page.Paragraph(caution, indent: 2);
        }

        page.Blank();
        page.Paragraph(ArtNetCredit);
        page.WriteTo(host.Output);
    }

    private static void Section(TextPage page, string title, IEnumerable<(string Name, string What)> rows)
    {
        List<(string Name, string What)> list = [.. rows];
        if (list.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading(title);
        page.Pairs(list, indent: 2);
    }

    private static string Usage(Command command)
    {
        string usage = ParseSentence.Path(command);
        if (command.Subcommands.Count > 0 && command.Arguments.Count == 0)
        {
            return usage + " COMMAND ...";
        }

        foreach (Argument argument in command.Arguments)
        {
            usage += " " + argument.Name + (argument.Arity.MaximumNumberOfValues > 1 ? " .." : "");
        }

        foreach (Option option in command.Options.Where(option => option.Required))
        {
            usage += $" {option.Name} {option.HelpName}";
        }

        return usage + " [options]";
    }

    // A command that only groups others is shown with its one or two words: "patch check".
    private static string SubName(Command sub) =>
        sub.Subcommands.Count == 1 && sub.Arguments.Count == 0 ? $"{sub.Name} {SubName(sub.Subcommands[0])}" : WithArguments(sub);

    private static string WithArguments(Command sub) =>
        string.Join(' ', [sub.Name, .. sub.Arguments.Select(argument => argument.Name + (argument.Arity.MaximumNumberOfValues > 1 ? " .." : ""))]);

    private static IEnumerable<Option> OptionsOf(Command command)
    {
        IEnumerable<Option> own = command.Options;
        for (Command? parent = command.Parents.OfType<Command>().FirstOrDefault();
            parent is not null;
            parent = parent.Parents.OfType<Command>().FirstOrDefault())
        {
            own = own.Concat(parent.Options.Where(option => option.Recursive));
        }

        return own.Where(option => !option.Hidden);
    }

    private static string OptionName(Option option) =>
        option.HelpName is null ? option.Name : option.Name + " " + option.HelpName;
}
