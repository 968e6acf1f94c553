using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>One of two inputs that were compared.</summary>
/// <param name="Name">As the person named it.</param>
/// <param name="Records">Records read.</param>
/// <param name="From">Time of the first.</param>
/// <param name="To">Time of the last.</param>
public sealed record ComparedInput(string Name, long Records, Timestamp? From, Timestamp? To);
