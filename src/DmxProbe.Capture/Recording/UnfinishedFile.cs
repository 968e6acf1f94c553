using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>A file under another name until it is whole.</summary>
internal sealed class UnfinishedFile : IBesideFile
{
    private readonly string _path;
    private readonly string _unfinished;
    private readonly FileStream _stream;
    private bool _isDone;

    /// <summary>Begins the file.</summary>
    /// <exception cref="IOException">It cannot be made.</exception>
    public UnfinishedFile(string path)
    {
        _path = path;
        string folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        _unfinished = Path.Combine(folder, ".dmxprobe-" + Guid.NewGuid().ToString("N") + ".tmp");
        _stream = new FileStream(_unfinished, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 64 * 1024);
    }

    public Stream Stream => _stream;

    public void Commit()
    {
        // What it says can be worked out again, so nobody waits for the disk: a half written one fails its checksums.
        _stream.Dispose();
        File.Move(_unfinished, _path, overwrite: true);
        _isDone = true;
    }

    public void Dispose()
    {
        _stream.Dispose();
        if (!_isDone)
        {
            File.Delete(_unfinished);
        }
    }
}
