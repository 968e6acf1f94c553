namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Why an interface description cannot be used.</summary>
/// <param name="What">What is wrong.</param>
/// <param name="Offset">Where, in octets from the body of its block.</param>
/// <param name="Expected">What was expected there.</param>
/// <param name="Found">What was found there.</param>
internal readonly record struct InterfaceFault(string What, int Offset, string Expected, string Found);
