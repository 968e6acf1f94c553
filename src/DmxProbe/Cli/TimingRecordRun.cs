using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Html;

namespace DmxProbe.Cli;

/// <summary>Writes the timing record of one run of <c>timing</c>: one page, whole or not at all.</summary>
/// <param name="host">The process.</param>
internal sealed class TimingRecordRun(ProgramHost host)
{
    private const int MostChannels = 40;

    /// <summary>The words of the command line.</summary>
    public required IReadOnlyList<string> Inputs { get; init; }

    /// <summary>Title as given.</summary>
    public string? Title { get; init; }

    /// <summary>Place as given.</summary>
    public string Place { get; init; } = "";

    /// <summary>Who, as given.</summary>
    public string By { get; init; } = "";

    /// <summary>What was connected where, as given.</summary>
    public IReadOnlyList<string> Connected { get; init; } = [];

    /// <summary>What was not tested, as given.</summary>
    public IReadOnlyList<string> NotTested { get; init; } = [];

    /// <summary>Options in force.</summary>
    public required IReadOnlyList<(string Name, string Value, bool IsGiven)> Options { get; init; }

    /// <summary>The command line without folders.</summary>
    public required string Command { get; init; }

    /// <summary>Refuses inputs that nobody could check later.</summary>
    /// <param name="inputs">The words of the command line.</param>
    /// <exception cref="UsageException">One is live, or standard input.</exception>
    public static void Check(IReadOnlyList<string> inputs)
    {
        if (inputs.FirstOrDefault(Cli.Inputs.IsLive) is string live)
        {
            throw new UsageException($"'{live}' is a live input, and a timing record rests on files that can be checked later; record it first (dmxprobe record {live} -o bench), then give the recording with --report");
        }

        if (inputs.Contains("-"))
        {
            throw new UsageException("standard input is read once only, and a timing record names files that can be checked later; put it into a file first");
        }
    }

    /// <summary>Writes the page.</summary>
    /// <param name="file">The file begun.</param>
    /// <param name="measured">What was measured, in the order of the inputs.</param>
    /// <param name="pairs">Inputs that are two taps of one show.</param>
    /// <returns>Octets written.</returns>
    public long Write(UnfinishedFile file, IReadOnlyList<TimedInput> measured, IReadOnlyList<TapPair> pairs)
    {
        IReadOnlyList<string> names = ShownNames.Of(Inputs);
        List<TimedInput> shown = [.. measured.Select((input, place) => Renamed(input, Inputs[place], names[place]))];
        Timestamp?[] dated = [.. measured.SelectMany(input => input.Inputs).SelectMany(input => new[] { input.First, input.Last })];
        FileHashes hashes = new(host, "timing");
        TimingRecordContent content = new()
        {
            Title = Title ?? "Timing record: " + string.Join(", ", names),
            Place = Place,
            By = By,
            Connected = Connected,
            Instrument = "DmxProbe " + DmxProbeProgram.Version,
            Command = Command,
            Options = Options,
            Timed = shown,
            Channels = [.. shown.SelectMany(input => input.Lines.Take(MostChannels).Select(channel => (shown.Count > 1 ? input.Input + ": " : "") + LineText.Sentence(channel)))],
            Taps = TapSentences.Of(shown, pairs),
            NotTested = [.. NotTested, .. Untested(shown)],
            Files = [.. Inputs.SelectMany((input, place) => hashes.Of(input, "input", names[place]))],

            // A zone is a setting of one machine: the page is the same everywhere.
            Clock = new WallClock(TimeZoneInfo.Utc, dated.Min(), dated.Max()),
        };
        return file.Fill(stream => TimingRecordPage.Write(stream, content), host.Stop);
    }

    private static IEnumerable<string> Untested(List<TimedInput> inputs)
    {
        if (inputs.Any(input => input.Lines.Count > 0))
        {
            yield return $"A full bench has 10 s of each of these; here {(inputs.Count == 1 ? "is one recording" : $"are {Figures.Count(inputs.Count, "recording")}")}: {string.Join("; ", BenchText.ToRecord)}";
        }
        else
        {
            yield return "Break, mark after break and bit times of the DMX lines behind this input: they show on the line only, in a recording of a logic recorder";
        }

        yield return "Delay from network to line, rate conversion, merge rule and what happens after a loss, unless both sides were given as two taps of one show";
        yield return "Electrical levels, edges, termination and the cable: times alone do not show them";
        yield return "Anything outside the time recorded";
    }

    // Texts of a reader may hold the path it was given.
    private static TimedInput Renamed(TimedInput input, string path, string name) => input with
    {
        Input = name,
        Inputs = [.. input.Inputs.Select(each => each with { Name = name })],
        Assumptions = [.. input.Assumptions.Select(text => text.Replace(path, name, StringComparison.Ordinal))],
        Cut = input.Cut.Replace(path, name, StringComparison.Ordinal),
    };
}
