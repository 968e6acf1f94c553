using System.CommandLine;
using System.Globalization;

using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli;

/// <summary>Options of the commands that can listen to live inputs.</summary>
internal sealed class LiveOptions
{
    private const int MostUniverses = 4096;
    private const string Heard = "heard";

    /// <summary><c>--for</c>.</summary>
    public Option<string?> For { get; } = new("--for")
    {
        HelpName = "10s",
        Description = "Live inputs: listen so long (10s, 5min, 2h), then answer; by itself until Ctrl-C, which answers with what was heard so far.",
    };

    /// <summary><c>--join</c>.</summary>
    public Option<string?> Join { get; } = new("--join")
    {
        HelpName = "1-4,7",
        Description = "net: sACN universes to join; 'heard' joins what sources list in discovery. By itself the discovery universe only, and the sheet's.",
    };

    /// <summary><c>--join-on-wireless</c>.</summary>
    public Option<bool> JoinOnWireless { get; } = new("--join-on-wireless")
    {
        Description = "net: join through wireless interfaces too; the access point then spends its air on the groups.",
    };

    /// <summary><c>--announce</c>.</summary>
    public Option<string?> Announce { get; } = new("--announce")
    {
        HelpName = "no-audience",
        Description = "net: answer ArtPoll as a monitor without outputs, so that controllers send here too; by itself explains what that means.",
        Arity = ArgumentArity.ZeroOrOne,
    };

    /// <summary>The options in the order in which --help shows them.</summary>
    public IReadOnlyList<Option> InOrder => [For, Join, JoinOnWireless, Announce];

    /// <summary>Adds them to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (Option option in InOrder)
        {
            command.Add(option);
        }
    }

    /// <summary>What was asked.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="host">The process.</param>
    /// <param name="sheetUniverses">sACN universes of the patch sheet, if there is one.</param>
    /// <exception cref="UsageException">An option does not serve.</exception>
    public LiveAsked Asked(ParseResult parsed, ProgramHost host, IEnumerable<int>? sheetUniverses = null)
    {
        string? join = parsed.GetValue(Join);
        bool heard = join == Heard;
        IReadOnlyList<int> universes = [.. (sheetUniverses ?? []).Where(SacnAddressing.IsDataUniverse)];
        if (join is not null && !heard)
        {
            universes = UniverseRanges.Parse(join, SacnAddressing.MinimumUniverse, SacnAddressing.MaximumUniverse, MostUniverses, out string problem);
            if (problem.Length > 0)
            {
                throw new UsageException($"--join: {problem}; or give 'heard'");
            }
        }

        return new LiveAsked(
            new LiveSettings
            {
                Clock = host.Clock,
                Tell = notice => Tell(host, notice),
                Universes = universes,
                JoinHeard = heard,
                JoinOnWireless = parsed.GetValue(JoinOnWireless),
                Announce = parsed.GetResult(Announce) is { Implicit: false } && IsWithoutAudience(parsed.GetValue(Announce)),
                ProgramPath = Environment.ProcessPath is string path && Path.GetFileNameWithoutExtension(path) != "dotnet"
                    ? path
                    : Path.Combine(AppContext.BaseDirectory, "dmxprobe"),
            },
            Length(parsed.GetValue(For)),
            host)
        {
            NetOnly = [.. new Option[] { Join, JoinOnWireless, Announce }.Where(option => parsed.GetResult(option) is { Implicit: false }).Select(option => option.Name)],
        };
    }

    private static bool IsWithoutAudience(string? answer) => answer == "no-audience"
        ? true
        : throw new UsageException(answer is "audience"
            ? "--announce is refused with an audience in: a controller that finds a new device may change what it sends, and with it the show; listen with nic:NAME at a mirror port"
            : "--announce makes this program send: it answers each ArtPoll from its own subnet, at most once a second to each poller, as a monitor that outputs nothing, so that controllers send their universes here as well; "
                + "that adds their traffic to the network, and a controller may show a new device; to go on, with nobody in the house but the crew, give '--announce no-audience'");

    private static Duration? Length(string? text)
    {
        if (text is null)
        {
            return null;
        }

        string figures = text.TrimEnd('s', 'm', 'i', 'n', 'h');
        double unit = text[figures.Length..] switch
        {
            "s" => 1,
            "min" or "m" => 60,
            "h" => 3600,
            _ => 0,
        };
        return unit > 0
            && double.TryParse(figures, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double number)
            && number * unit is > 0 and <= 604_800
            ? Duration.FromSeconds(number * unit)
            : throw new UsageException($"--for: expected a length such as 10s, 5min or 2h, at most a week, found '{text}'");
    }

    private static void Tell(ProgramHost host, LiveNotice notice)
    {
        lock (host.Error)
        {
            host.Error.WriteLine("dmxprobe: " + Figures.Ended(Printable.Text(notice.Text)));
            host.Error.Flush();
        }
    }
}
