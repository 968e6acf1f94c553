namespace DmxProbe.Analysis.Index;

/// <summary>A block of a review file.</summary>
/// <param name="Part">The part of the recording.</param>
/// <param name="Stream">The stream, by its number.</param>
/// <param name="Entry">What the file says of the block.</param>
internal sealed record ReviewPlace(int Part, int Stream, LevelFileEntry Entry);
