namespace DmxProbe.Capture.Serial;

/// <summary>A serial port of this computer at one moment.</summary>
/// <param name="Name">What to type behind <c>framed:</c> or <c>uart:</c>. Untrusted text.</param>
/// <param name="StableName">A path that stays the same when the adapter is plugged in elsewhere; empty where the system has none.</param>
/// <param name="Description">What the adapter calls itself; empty when it does not say. Untrusted text.</param>
public sealed record SerialPortInfo(string Name, string StableName, string Description);
