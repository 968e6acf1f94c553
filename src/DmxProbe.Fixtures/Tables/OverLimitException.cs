namespace DmxProbe.Fixtures.Tables;

/// <summary>A file asks for more than it may have; its message says what. It never leaves the reader of the file.</summary>
#pragma warning disable CA1032, CA1064 // caught in this assembly alone, made in one way
internal sealed class OverLimitException(string message) : Exception(message);
#pragma warning restore CA1032, CA1064
