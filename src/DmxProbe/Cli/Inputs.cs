using System.CommandLine;

using DmxProbe.Capture.Files;
using DmxProbe.Capture.Filters;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>The INPUT words of a command line, and how they are opened.</summary>
internal static class Inputs
{
    private static readonly string[] LiveWords = ["net", "nic", "framed", "uart"];

    /// <summary>INPUT, once or several times.</summary>
    public static Argument<string[]> Several() => new("INPUT")
    {
        Description = "A capture: pcap or pcapng; or a recording of a DMX line: VCD, CSV, the session zip of a logic analyser, raw samples with --rate. Also gzipped; - reads standard input.",
        Arity = ArgumentArity.OneOrMore,
    };

    /// <summary>INPUT, once.</summary>
    public static Argument<string> One() => new("INPUT")
    {
        Description = "A capture: pcap or pcapng; or a recording of a DMX line: VCD, CSV, the session zip of a logic analyser, raw samples with --rate. Also gzipped; - reads standard input.",
        Arity = ArgumentArity.ExactlyOne,
    };

    /// <summary>Opens an input.</summary>
    /// <param name="input">The word of the command line.</param>
    /// <param name="lines">What the person says about line recordings; null for nothing.</param>
    /// <exception cref="UsageException">It names a live input.</exception>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public static ICaptureSource Open(string input, LineFileOptions? lines = null)
    {
        string word = input.Split(':')[0];
        if (LiveWords.Contains(word, StringComparer.Ordinal) && (input.Contains(':') || word == "net"))
        {
            throw new UsageException(
                $"'{input}' is a live input, and this version reads capture files only; capture to a file and name that (a file called {input} is given as ./{input})");
        }

        return CaptureFile.Open(input, lines ?? LineFileOptions.None);
    }

    /// <summary>Opens several inputs as one, merged by time; closes those already open when one fails.</summary>
    /// <param name="inputs">The words of the command line.</param>
    /// <param name="lines">What the person says about line recordings; null for nothing.</param>
    /// <exception cref="UsageException">One names a live input.</exception>
    /// <exception cref="InputException">One cannot be opened.</exception>
    public static ICaptureSource OpenMerged(IReadOnlyList<string> inputs, LineFileOptions? lines = null)
    {
        List<ICaptureSource> sources = [];
        try
        {
            foreach (string input in inputs)
            {
                sources.Add(Open(input, lines));
            }

            return sources.Count == 1 ? sources[0] : new MergedSource(sources);
        }
        catch
        {
            sources.ForEach(source => source.Dispose());
            throw;
        }
    }
}
