namespace DmxProbe.Analysis.Video;

/// <summary>Light at a moment.</summary>
/// <param name="Seconds">From the first picture.</param>
/// <param name="Red">Linear light above the surroundings, 1 = full.</param>
/// <param name="Green">Linear light.</param>
/// <param name="Blue">Linear light.</param>
public readonly record struct LightSample(double Seconds, double Red, double Green, double Blue);
