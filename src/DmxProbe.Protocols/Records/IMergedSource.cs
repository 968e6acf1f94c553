namespace DmxProbe.Protocols.Records;

/// <summary>A source made of several, so that what was counted can be told per input.</summary>
public interface IMergedSource : ICaptureSource
{
    /// <summary>The inputs, in the order given.</summary>
    IReadOnlyList<SourcePart> Parts { get; }
}
