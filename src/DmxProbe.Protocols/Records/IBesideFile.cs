namespace DmxProbe.Protocols.Records;

/// <summary>A file on its way to be kept beside a part of a recording. Disposed without <see cref="Commit"/> it is forgotten.</summary>
public interface IBesideFile : IDisposable
{
    /// <summary>Where to write; written from its start to its end, and once more at its start.</summary>
    Stream Stream { get; }

    /// <summary>Puts the whole file in its place, at once or not at all.</summary>
    void Commit();
}
