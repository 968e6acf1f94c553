using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>A change of what a universe carries.</summary>
internal readonly record struct OutputChange(Timestamp Time, byte[] Slots, ulong Hash);
