using System.Globalization;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>What samples are.</summary>
/// <param name="Rate">Samples per second.</param>
/// <param name="Unit">Octets of one sample.</param>
/// <param name="Channels">The channels wanted: each with its name and its bit, counted through the octets of a sample.</param>
/// <param name="Description">Where they come from, in a few words.</param>
internal sealed record SampleLayout(long Rate, int Unit, IReadOnlyList<(string Name, int Bit)> Channels, string Description)
{
    /// <summary>What had to be assumed.</summary>
    public IReadOnlyList<string> Assumptions { get; init; } = [];

    /// <summary>The members of the zip that the samples come from, or null; knows what is wrong with them.</summary>
    public SessionStream? Members { get; init; }

    /// <summary>Raw samples: one octet each, all eight lines or the one wanted.</summary>
    public static SampleLayout Raw(long rate, int? bit) => new(
        rate,
        1,
        [.. Enumerable.Range(bit ?? 0, bit is null ? 8 : 1).Select(each => ("bit " + each.ToString(CultureInfo.InvariantCulture), each))],
        "raw samples")
    {
        Assumptions = [$"The file says nothing about itself: it is taken as raw samples of one octet at {Rates.Text(rate)} (--rate), bit 0 the lowest."],
    };
}
