using System.CommandLine;

using DmxProbe.Capture.Files;
using DmxProbe.Capture.Filters;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>The INPUT words of a command line, and how they are opened.</summary>
internal static class Inputs
{
    private const string Description =
        "A capture file (pcap, pcapng), a folder that was recorded into, or a recording of a DMX line (VCD, CSV, session zip of a logic analyser, raw samples with --rate); also gzipped; - reads standard input. Live: net, net:ADDRESS, nic:NAME, framed:PORT, uart:PORT (a file called net is given as ./net).";

    /// <summary>INPUT, once or several times.</summary>
    public static Argument<string[]> Several() => new("INPUT")
    {
        Description = Description,
        Arity = ArgumentArity.OneOrMore,
    };

    /// <summary>INPUT, once.</summary>
    public static Argument<string> One() => new("INPUT")
    {
        Description = Description,
        Arity = ArgumentArity.ExactlyOne,
    };

    /// <summary>Whether an input is live: it never ends by itself.</summary>
    public static bool IsLive(string input) => LiveInput.Names(input);

    /// <summary>Refuses what says how to listen where nothing listens, so that nobody takes the whole of a file for 10 s of it.</summary>
    /// <param name="inputs">The words of the command line.</param>
    /// <param name="live">How to listen.</param>
    /// <exception cref="UsageException">An option has no input that it could be about.</exception>
    public static void Check(IReadOnlyList<string> inputs, LiveAsked live)
    {
        string named = string.Join(", ", inputs);
        if (live.Length is not null && !inputs.Any(IsLive))
        {
            if (inputs.FirstOrDefault(input => input != CaptureFile.StandardInput && !File.Exists(input) && !Directory.Exists(input)) is string gone)
            {
                throw new UsageException($"{gone}: there is no such file, and no live input is called so (net, net:ADDRESS, nic:NAME, framed:PORT, uart:PORT); check the name and the folder");
            }

            throw new UsageException($"--for says how long a live input is listened to, and {named} {(inputs.Count == 1 ? "is a file that is" : "are files that are")} read to the end; leave --for out");
        }

        if (live.NetOnly.Count > 0 && !inputs.Any(LiveInput.NamesNet))
        {
            throw new UsageException($"{string.Join(" and ", live.NetOnly)} {(live.NetOnly.Count == 1 ? "says" : "say")} how net listens, and {named} {(inputs.Count == 1 ? "is" : "are")} not net; leave {(live.NetOnly.Count == 1 ? "it" : "them")} out, or listen with net");
        }
    }

    /// <summary>Opens an input. A live one is read by a thread of its own from now on, and never ends by itself.</summary>
    /// <param name="input">The word of the command line.</param>
    /// <param name="live">How to listen; null where the command reads files only.</param>
    /// <param name="lines">What the person says about line recordings; null for nothing.</param>
    /// <exception cref="UsageException">It names a live input and this command reads files only.</exception>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public static ICaptureSource Open(string input, LiveAsked? live = null, LineFileOptions? lines = null)
    {
        if (!IsLive(input))
        {
            return CaptureFile.Open(input, lines ?? LineFileOptions.None);
        }

        return live is null
            ? throw new UsageException($"'{input}' is a live input, and this command reads files; record it first, then name the file (a file called {input} is given as ./{input})")
            : LiveInput.Open(input, live.Settings);
    }

    /// <summary>Opens one of several inputs that are read apart, after <see cref="Check"/> for all of them.</summary>
    /// <param name="input">The word of the command line.</param>
    /// <param name="live">How to listen.</param>
    /// <param name="lines">What the person says about line recordings; null for nothing.</param>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public static ICaptureSource OpenApart(string input, LiveAsked live, LineFileOptions? lines = null) =>
        OpenMerged([input], IsLive(input) ? live with { NetOnly = [] } : null, lines);

    /// <summary>
    /// Opens several inputs as one, merged by time; closes those already open when one fails. With a live input among them it
    /// ends after the length asked or with Ctrl-C, and Ctrl-C then means: answer with what was heard so far.
    /// </summary>
    /// <param name="inputs">The words of the command line.</param>
    /// <param name="live">How to listen; null where the command reads files only.</param>
    /// <param name="lines">What the person says about line recordings; null for nothing.</param>
    /// <exception cref="UsageException">One names a live input and this command reads files only; or an option is about live inputs and none is.</exception>
    /// <exception cref="InputException">One cannot be opened.</exception>
    public static ICaptureSource OpenMerged(
        IReadOnlyList<string> inputs, LiveAsked? live = null, LineFileOptions? lines = null) =>
        OpenMerged(inputs, live, lines, datedOnly: false);

    /// <summary>
    /// The same for what is held against a light: with a network among the inputs, recordings of a line are left out. They
    /// begin at time 0 (1970), so merged they would move the moment from which a trace counts its seconds.
    /// </summary>
    /// <inheritdoc cref="OpenMerged(IReadOnlyList{string}, LiveAsked?, LineFileOptions?)"/>
    public static ICaptureSource OpenDated(IReadOnlyList<string> inputs, LiveAsked? live = null, LineFileOptions? lines = null) =>
        OpenMerged(inputs, live, lines, datedOnly: true);

    private static ICaptureSource OpenMerged(IReadOnlyList<string> inputs, LiveAsked? live, LineFileOptions? lines, bool datedOnly)
    {
        if (live is not null)
        {
            Check(inputs, live);
        }

        List<ICaptureSource> sources = [];
        try
        {
            foreach (string input in inputs)
            {
                sources.Add(Open(input, live, lines));
            }

            if (datedOnly && sources.Exists(source => source is not ILineSource))
            {
                foreach (ICaptureSource undated in sources.FindAll(source => source is ILineSource))
                {
                    sources.Remove(undated);
                    undated.Dispose();
                }
            }

            ICaptureSource all = sources.Count == 1 ? sources[0] : new MergedSource(sources);
            List<ILiveSource> listening = [.. sources.OfType<ILiveSource>()];
            if (live is null || listening.Count == 0)
            {
                return all;
            }

            live.Host.AnswerOnStop();
            return new EndingSource(all, listening, live.Host.Clock, live.Length, live.Host.Stop);
        }
        catch
        {
            sources.ForEach(source => source.Dispose());
            throw;
        }
    }
}
