namespace DmxProbe.Protocols.Records;

/// <summary>A recording as its parts, with room beside each for a file of what was worked out from it.</summary>
public interface IPartedRecording : IDisposable
{
    /// <summary>Name to print: the folder or the file. Untrusted text.</summary>
    string Name { get; }

    /// <summary>The parts, lane by lane, in the order in which they were recorded.</summary>
    IReadOnlyList<RecordingPart> Parts { get; }

    /// <summary>Reads from the start of a part to the end of its lane.</summary>
    /// <param name="part">Index of <see cref="Parts"/>.</param>
    IPartedSource Open(int part);

    /// <summary>Opens what was kept beside a part: readable at any place.</summary>
    /// <returns>Null where there is nothing, or where it cannot be read.</returns>
    Stream? OpenBeside(int part);

    /// <summary>Begins a file to be kept beside a part; where the folder takes none, it lasts as long as this object.</summary>
    /// <exception cref="IOException">There is no room for it anywhere.</exception>
    IBesideFile CreateBeside(int part);
}
