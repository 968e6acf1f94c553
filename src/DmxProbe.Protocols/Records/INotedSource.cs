namespace DmxProbe.Protocols.Records;

/// <summary>A source with something to say about itself that no record of it says.</summary>
public interface INotedSource : ICaptureSource
{
    /// <summary>One sentence each; names in them as they came.</summary>
    IReadOnlyList<string> Notes { get; }
}
