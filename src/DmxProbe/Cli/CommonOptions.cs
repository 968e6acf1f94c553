using System.CommandLine;
using System.Globalization;

using DmxProbe.Cli.Text;
using DmxProbe.Protocols.CaptureFiles;

namespace DmxProbe.Cli;

/// <summary>Options that every command takes.</summary>
internal sealed class CommonOptions
{
    /// <summary>JSON instead of text.</summary>
    public Option<bool> Json { get; } = new("--json") { Description = "Print JSON (docs/json.md) instead of text.", Recursive = true };

    /// <summary>Times in UTC.</summary>
    public Option<bool> Utc { get; } = new("--utc") { Description = "Print times in UTC instead of local time (JSON always has UTC).", Recursive = true };

    /// <summary>No colour.</summary>
    public Option<bool> NoColor { get; } = new("--no-color") { Description = "No colour; also by setting NO_COLOR. Colour repeats what the words say.", Recursive = true };

    /// <summary>Lists at full length.</summary>
    public Option<bool> All { get; } = new("--all") { Description = "Show long lists to their end.", Recursive = true };

    /// <summary>Sampling rate of a line recording that does not say it.</summary>
    public Option<string?> Rate { get; } = new("--rate") { HelpName = "RATE", Description = "Samples per second of a line recording that does not say it (24M, 500k): makes unknown content raw samples." };

    /// <summary>Bit of raw samples.</summary>
    public Option<string?> Bit { get; } = new("--bit") { HelpName = "N", Description = "The bit of raw samples that is the line, 0 to 7; without it all eight are read." };

    /// <summary>Threshold of voltages.</summary>
    public Option<string?> Threshold { get; } = new("--threshold") { HelpName = "VOLT", Description = "Voltage from which on a line recorded as voltages is high (1.5); without it halfway between the levels seen." };

    /// <summary>The options of commands that read line recordings.</summary>
    public IReadOnlyList<Option> OfLines => [Rate, Bit, Threshold];

    /// <summary>The options in the order in which --help shows them.</summary>
    public IReadOnlyList<Option> InOrder => [Json, Utc, NoColor, All];

    /// <summary>An empty page as these options want it.</summary>
    public TextPage Page(ParseResult parsed, ProgramHost host) =>
        new(host.Width, host.Color && !parsed.GetValue(NoColor));

    /// <summary>The zone in which times are to be printed.</summary>
    public TimeZoneInfo Zone(ParseResult parsed, ProgramHost host) =>
        parsed.GetValue(Utc) ? TimeZoneInfo.Utc : host.Zone;

    /// <summary>What these options say about line recordings.</summary>
    /// <exception cref="UsageException">One has a value that cannot be.</exception>
    public LineFileOptions Lines(ParseResult parsed)
    {
        long? rate = null;
        if (parsed.GetValue(Rate) is string perSecond)
        {
            rate = Rates.TryParse(perSecond, out long value)
                ? value
                : throw new UsageException($"--rate: expected a sampling rate such as 24M or 500k, from 1 Hz to {Rates.Text(Rates.Highest)}, found '{perSecond}'; give samples per second");
        }

        int? bit = null;
        if (parsed.GetValue(Bit) is string number)
        {
            bit = number is [>= '0' and <= '7'] ? number[0] - '0' : throw new UsageException($"--bit: expected a bit from 0 to 7, found '{number}'; 0 is the lowest");
            if (rate is null)
            {
                throw new UsageException("--bit is for raw samples, and no rate is given; add --rate");
            }
        }

        double? threshold = null;
        if (parsed.GetValue(Threshold) is string volt)
        {
            threshold = double.TryParse(volt, NumberStyles.Float, CultureInfo.InvariantCulture, out double level) && Math.Abs(level) <= 1_000
                ? level
                : throw new UsageException($"--threshold: expected volts such as 1.5, from -1000 to 1000, found '{volt}'; use a point for decimals");
        }

        return new LineFileOptions { Rate = rate, Bit = bit, Threshold = threshold };
    }
}
