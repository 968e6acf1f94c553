namespace DmxProbe.Protocols.Records;

/// <summary>A source that reads several parts of a recording one after the other.</summary>
public interface IPartedSource : ICaptureSource
{
    /// <summary>The part that the record last read is from: an index of <see cref="IPartedRecording.Parts"/>.</summary>
    int Part { get; }
}
