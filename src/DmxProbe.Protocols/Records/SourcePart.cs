namespace DmxProbe.Protocols.Records;

/// <summary>One of the inputs of a source that merges several.</summary>
/// <param name="Source">The input itself.</param>
/// <param name="InterfaceIds">The numbers its interfaces have in the merged source; grows while reading.</param>
public sealed record SourcePart(ICaptureSource Source, IReadOnlyList<int> InterfaceIds);
