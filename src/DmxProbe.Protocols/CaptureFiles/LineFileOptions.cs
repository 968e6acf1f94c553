namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>What a person says about a line recording because its file does not.</summary>
public sealed record LineFileOptions
{
    /// <summary>Nothing said.</summary>
    public static LineFileOptions None { get; } = new();

    /// <summary>
    /// Samples per second, 1 to <see cref="Rates.Highest"/>. Makes a file of no other known content raw samples of one
    /// octet each, and times the rows of a CSV; a file that states its rate keeps that one.
    /// </summary>
    public long? Rate { get; init; }

    /// <summary>The one bit of raw samples that is wanted, 0 to 7; all eight otherwise.</summary>
    public int? Bit { get; init; }

    /// <summary>Volts from which on a voltage counts as high; found from the recording otherwise.</summary>
    public double? Threshold { get; init; }
}
