using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Builds the sentence for a line recording that cannot be read further. Only called once per file.</summary>
/// <param name="unpacked">True when offsets count octets of the unpacked content of a gzip file.</param>
/// <param name="ticksPerSecond">Clock of the recording.</param>
internal sealed class LineDamage(bool unpacked, long ticksPerSecond)
{
    /// <summary>Something cannot be, at an octet.</summary>
    public InputProblem Wrong(string what, long offset, string expected, string found, long ticksRead) =>
        new(what, Byte(offset), expected, found, Read(ticksRead));

    /// <summary>The stream failed.</summary>
    public InputProblem Unreadable(ByteWindow window, long ticksRead) =>
        new CaptureDamage(unpacked).Unreadable(window, 0) with { Advice = Read(ticksRead) };

    /// <summary>Something is wrong at a place that is no octet.</summary>
    public InputProblem At(string what, string where, string expected, string found, long ticksRead) =>
        new(what, where, expected, found, Read(ticksRead));

    /// <summary>An octet of the file.</summary>
    public string Byte(long offset) => "byte " + CaptureDamage.Number(offset) + (unpacked ? " of the unpacked data" : "");

    private string Read(long ticks) => ticks <= 0
        ? "nothing could be read before it"
        : string.Create(CultureInfo.InvariantCulture, $"the {(double)ticks / ticksPerSecond:0.######} s before it were read");
}
