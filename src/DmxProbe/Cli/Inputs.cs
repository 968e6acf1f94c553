using System.CommandLine;

using DmxProbe.Capture.Files;
using DmxProbe.Capture.Filters;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>The INPUT words of a command line, and how they are opened.</summary>
internal static class Inputs
{
    private static readonly string[] LiveWords = ["net", "nic", "framed", "uart"];

    /// <summary>INPUT, once or several times.</summary>
    public static Argument<string[]> Several() => new("INPUT")
    {
        Description = "A capture file: pcap or pcapng, also gzipped; - reads standard input.",
        Arity = ArgumentArity.OneOrMore,
    };

    /// <summary>INPUT, once.</summary>
    public static Argument<string> One() => new("INPUT")
    {
        Description = "A capture file: pcap or pcapng, also gzipped; - reads standard input.",
        Arity = ArgumentArity.ExactlyOne,
    };

    /// <summary>Opens an input.</summary>
    /// <exception cref="UsageException">It names a live input.</exception>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public static ICaptureSource Open(string input)
    {
        string word = input.Split(':')[0];
        if (LiveWords.Contains(word, StringComparer.Ordinal) && (input.Contains(':') || word == "net"))
        {
            throw new UsageException(
                $"'{input}' is a live input, and this version reads capture files only; capture to a file and name that (a file called {input} is given as ./{input})");
        }

        return CaptureFile.Open(input);
    }

    /// <summary>Opens several inputs as one, merged by time; closes those already open when one fails.</summary>
    /// <exception cref="UsageException">One names a live input.</exception>
    /// <exception cref="InputException">One cannot be opened.</exception>
    public static ICaptureSource OpenMerged(IReadOnlyList<string> inputs)
    {
        List<ICaptureSource> sources = [];
        try
        {
            foreach (string input in inputs)
            {
                sources.Add(Open(input));
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
