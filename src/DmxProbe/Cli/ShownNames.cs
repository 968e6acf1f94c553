namespace DmxProbe.Cli;

/// <summary>What inputs are called on a page that is to be the same in every folder: by their file names.</summary>
internal static class ShownNames
{
    private static readonly char[] Separators = ['/', '\\'];

    /// <summary>The last part of each path; with as many folders before it as it takes to tell them apart.</summary>
    /// <param name="inputs">The words of the command line.</param>
    public static IReadOnlyList<string> Of(IReadOnlyList<string> inputs)
    {
        string[][] parts = [.. inputs.Select(input => input.Split(Separators, StringSplitOptions.RemoveEmptyEntries) is { Length: > 0 } names ? names : [input])];
        for (int depth = 1; ; depth++)
        {
            string[] shown = [.. parts.Select(names => string.Join('/', names.TakeLast(depth)))];
            if (shown.Distinct(StringComparer.Ordinal).Count() == shown.Length || depth >= parts.Max(names => names.Length))
            {
                return shown;
            }
        }
    }
}
