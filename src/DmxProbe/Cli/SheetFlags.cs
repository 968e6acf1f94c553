using System.CommandLine;

using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli;

/// <summary>The options with which a person answers what a sheet leaves open; the same on every command that reads one.</summary>
internal sealed class SheetFlags
{
    private readonly Option<string[]> _columns = new("--columns")
    {
        HelpName = "unit=A,address=C",
        Description = "Which columns of the sheet are which, by letter or heading: unit, type, mode, universe, address, position, chain, order, circuit, sharesWith, wireless, footprint, function, note.",
        AllowMultipleArgumentsPerToken = false,
    };

    private readonly Option<int?> _universeBase = new("--universe-base") { HelpName = "0|1", Description = "The number of the sheet's first universe, where the sheet does not show it." };
    private readonly Option<string?> _dash = new("--dash") { HelpName = "range|universe", Description = "Whether 1-16 on the sheet is a range of slots, or universe 1 address 16." };
    private readonly Option<string?> _worksheet = new("--worksheet") { HelpName = "NAME", Description = "Which worksheet of an xlsx file is the patch." };
    private readonly Option<string?> _charts = SheetOptions.Charts();

    /// <summary>Adds the options to a command.</summary>
    public void AddTo(Command command)
    {
        command.Add(_charts);
        command.Add(_columns);
        command.Add(_universeBase);
        command.Add(_dash);
        command.Add(_worksheet);
    }

    /// <summary>Reads a sheet and its charts as these options say.</summary>
    /// <exception cref="UsageException">An option or the sheet does not serve; one sentence.</exception>
    public SheetInUse Open(ParseResult parsed, string path)
    {
        string? dash = parsed.GetValue(_dash);
        int? first = parsed.GetValue(_universeBase);
        if (dash is not (null or "range" or "universe"))
        {
            throw new UsageException($"--dash: expected range or universe, found '{dash}'");
        }

        if (first is not (null or 0 or 1))
        {
            throw new UsageException($"--universe-base: expected 0 or 1, found {first}");
        }

        PatchReadOptions options = new()
        {
            Columns = Columns(parsed.GetValue(_columns) ?? []),
            UniverseBase = first,
            DashIsRange = dash is null ? null : dash == "range",
            Worksheet = parsed.GetValue(_worksheet),
        };
        return Sheets.Open(path, parsed.GetValue(_charts), options);
    }

    private static Dictionary<PatchColumn, string> Columns(string[] given)
    {
        Dictionary<PatchColumn, string> columns = [];
        foreach (string part in given.SelectMany(text => text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)))
        {
            string[] sides = part.Split('=', 2, StringSplitOptions.TrimEntries);
            if (sides.Length != 2 || sides[1].Length == 0 || sides[0].Any(char.IsAsciiDigit) || !Enum.TryParse(sides[0], ignoreCase: true, out PatchColumn column))
            {
                throw new UsageException($"--columns: expected pairs such as unit=A or address=C, found '{part}'; the words are {string.Join(", ", Enum.GetNames<PatchColumn>().Select(name => char.ToLowerInvariant(name[0]) + name[1..]))}");
            }

            if (!columns.TryAdd(column, sides[1]))
            {
                throw new UsageException($"--columns gives {sides[0]} twice; give each once");
            }
        }

        return columns;
    }
}
