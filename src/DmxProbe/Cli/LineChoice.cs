using System.CommandLine;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Serial;

namespace DmxProbe.Cli;

/// <summary>Options of commands that read line recordings and serial interfaces.</summary>
internal sealed class LineChoice
{
    /// <summary>The option that names channels.</summary>
    public const string Channel = "--channel";

    private const string Auto = "auto";
    private const string High = "mark-high";
    private const string Low = "mark-low";

    private readonly Option<string[]> _channel = new(Channel)
    {
        HelpName = "NAME",
        Description = "Channel of a line recording to decode, by its name in the recording, may be repeated; by itself every channel that carries DMX512.",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string> _polarity = new("--polarity")
    {
        HelpName = "auto|mark-high|mark-low",
        Description = "Which level of a line recording is mark; auto finds it.",
        DefaultValueFactory = _ => Auto,
    };

    private readonly Option<string?> _framed = new("--framed")
    {
        HelpName = "SETTINGS",
        Description = "How a framed serial interface sends DMX, if not in the usual way, such as received=6,status=0 (docs/serial.md).",
    };

    /// <summary>The options in the order in which --help shows them.</summary>
    public IReadOnlyList<Option> InOrder => [_channel, _polarity, _framed];

    /// <summary>Adds them to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (Option option in InOrder)
        {
            command.Add(option);
        }
    }

    /// <summary>What was said.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="files">What was said about the files.</param>
    /// <exception cref="UsageException">A word that is none of those wanted.</exception>
    public LineOptions Of(ParseResult parsed, LineFileOptions files) => new()
    {
        IsRateTold = files.Rate is not null,
        Channels = parsed.GetValue(_channel) ?? [],
        Polarity = parsed.GetValue(_polarity) switch
        {
            High => LinePolarity.MarkHigh,
            Low => LinePolarity.MarkLow,
            Auto => null,
            string other => throw new UsageException($"--polarity '{other}': {Auto}, {High} or {Low} is wanted"),
            null => null,
        },
        Framed = FramedOf(parsed.GetValue(_framed)),
    };

    private static FramedOptions FramedOf(string? text) =>
        text is null ? FramedOptions.Usual
        : FramedOptions.TryParse(text, out FramedOptions options, out string problem) ? options
        : throw new UsageException("--framed: " + problem);

    /// <summary>Refuses a channel that the recording does not have.</summary>
    /// <exception cref="UsageException">It has none of that name.</exception>
    public static void Check(ICaptureSource source, LineOptions options)
    {
        string[] names =
        [
            .. source.Interfaces.Where(each => each.Content == InterfaceContent.Line).Select(each => each.Name),
        ];
        foreach (string wanted in options.Channels)
        {
            if (!names.Contains(wanted, StringComparer.OrdinalIgnoreCase))
            {
                throw new UsageException(names.Length == 0
                    ? $"--channel '{wanted}': {source.Name} is no line recording and has no channels"
                    : $"--channel '{wanted}': {source.Name} has no such channel; it has {string.Join(", ", names.Select(name => $"'{name}'"))}");
            }
        }
    }
}
