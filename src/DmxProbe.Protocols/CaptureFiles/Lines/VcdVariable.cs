namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>A variable of a VCD file.</summary>
/// <param name="FirstChannel">Channel of its highest bit; the others follow. -1 where it is not read.</param>
/// <param name="Width">Bits.</param>
internal readonly record struct VcdVariable(int FirstChannel, int Width);
