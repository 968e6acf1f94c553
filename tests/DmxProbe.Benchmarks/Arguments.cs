using System.Globalization;

namespace DmxProbe.Benchmarks;

/// <summary>Options of a benchmark.</summary>
internal static class Arguments
{
    /// <summary>The whole number behind an option.</summary>
    /// <param name="arguments">The words behind the benchmark's name.</param>
    /// <param name="name">The option.</param>
    /// <param name="otherwise">What it is where it was not given.</param>
    public static int Number(string[] arguments, string name, int otherwise) =>
        Word(arguments, name) is string text ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;

    /// <summary>The word behind an option; null where it was not given.</summary>
    public static string? Word(string[] arguments, string name)
    {
        int place = Array.IndexOf(arguments, name);
        return place >= 0 && place + 1 < arguments.Length ? arguments[place + 1] : null;
    }
}
