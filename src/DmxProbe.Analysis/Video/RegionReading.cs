namespace DmxProbe.Analysis.Video;

/// <summary>A region of one picture: light above its surroundings, before the exposure is divided out.</summary>
/// <param name="Picture">Number of the picture, from 0.</param>
/// <param name="Red">Linear light, 1 = full.</param>
/// <param name="Green">Linear light.</param>
/// <param name="Blue">Linear light.</param>
/// <param name="IsClipped">Whether too many of its pixels are at their end.</param>
public readonly record struct RegionReading(int Picture, float Red, float Green, float Blue, bool IsClipped);
