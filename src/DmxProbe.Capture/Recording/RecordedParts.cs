using System.Numerics;
using System.Runtime.InteropServices;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// A recorded folder, or one capture file, as its parts. What is worked out from a segment of a folder is kept beside it;
/// for a single capture file, and in a folder that may not be written to, in a temporary folder that goes with this object.
/// </summary>
public sealed class RecordedParts : IPartedRecording
{
    /// <summary>Added to the name of a segment for what is kept beside it.</summary>
    public const string Suffix = ".levels";

    private const int Samples = 64;
    private const int SampleLength = 1024;
    private readonly SegmentPart[] _files;
    private readonly bool _isFolder;
    private string? _temporary;

    private RecordedParts(string name, SegmentPart[] files, IReadOnlyList<RecordingPart> parts, IReadOnlyList<string> notes, bool isFolder)
    {
        Name = name;
        _files = files;
        Parts = parts;
        Notes = notes;
        _isFolder = isFolder;
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public IReadOnlyList<RecordingPart> Parts { get; }

    /// <summary>What the folder says about its runs, each a sentence.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>Opens a folder that was recorded into, or a capture file.</summary>
    /// <param name="path">The folder or file as the person named it.</param>
    /// <exception cref="InputException">It holds no recording that can be read, or is none.</exception>
    public static RecordedParts Open(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        bool isFolder = Directory.Exists(path);
        List<string> notes = [];
        List<SegmentPart> files = [];
        List<RecordingPart> parts = [];
        List<IReadOnlyList<SegmentPart>> lanes = isFolder ? RecordedFolder.Lanes(path, notes) : [[new SegmentPart(path, null)]];
        if (!isFolder)
        {
            if (IsPipe(path))
            {
                throw new InputException(path, new InputProblem("this can be read once only", "", "a folder that was recorded into, or a capture file", "a pipe", "record it first"));
            }

            CaptureFile.OpenFile(path, LineFileOptions.None).Dispose(); // says what is wrong with it
        }

        for (int lane = 0; lane < lanes.Count; lane++)
        {
            foreach (SegmentPart file in lanes[lane])
            {
                files.Add(file);
                (long octets, ulong stamp) = Look(file.Path);
                parts.Add(new RecordingPart(Path.GetFileName(file.Path), lane, octets, stamp));
            }
        }

        return new RecordedParts(path, [.. files], parts, notes, isFolder);
    }

    /// <inheritdoc/>
    public IPartedSource Open(int part)
    {
        int lane = Parts[part].Lane;
        int end = part;
        while (end < Parts.Count && Parts[end].Lane == lane)
        {
            end++;
        }

        SegmentPart[] files = _files[part..end];
        files[0] = files[0] with { PauseUntil = null }; // nothing was read before it
        return new SegmentChain(Name, files, [], part);
    }

    /// <inheritdoc/>
    public Stream? OpenBeside(int part)
    {
        foreach (string path in new[] { TemporaryPath(part), _isFolder ? _files[part].Path + Suffix : null }.OfType<string>())
        {
            try
            {
                FileInfo file = new(path);
                if (file.Exists && file.LinkTarget is null)
                {
                    return new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 0);
                }
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                // As if it were not there: it is made again.
            }
        }

        return null;
    }

    /// <inheritdoc/>
    public IBesideFile CreateBeside(int part)
    {
        if (_isFolder)
        {
            try
            {
                return new UnfinishedFile(_files[part].Path + Suffix);
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                // A folder that may not be written to.
            }
        }

        _temporary ??= Directory.CreateTempSubdirectory("dmxprobe-levels-").FullName;
        return new UnfinishedFile(TemporaryPath(part)!);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_temporary is not null)
        {
            try
            {
                Directory.Delete(_temporary, recursive: true); // made by us
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                // It is in the system's folder for what may go.
            }

            _temporary = null;
        }
    }

    private string? TemporaryPath(int part) =>
        _temporary is null ? null : Path.Combine(_temporary, part.ToString(System.Globalization.CultureInfo.InvariantCulture) + Suffix);

    private static bool IsPipe(string path)
    {
        try
        {
            using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 0);
            return !file.CanSeek;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return false; // reading it says why
        }
    }

    private static (long Octets, ulong Stamp) Look(string path)
    {
        try
        {
            FileInfo file = new(path);
            using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 0);
            long length = stream.CanSeek ? stream.Length : 0;
            uint sum = 0;
            byte[] sample = new byte[SampleLength];
            for (int i = 0; i < Samples && length > 0; i++)
            {
                int read = RandomAccess.Read(stream.SafeFileHandle, sample, Math.Max(0, length - SampleLength) / (Samples - 1) * i);
                sample.AsSpan(read).Clear();
                foreach (ulong word in MemoryMarshal.Cast<byte, ulong>(sample))
                {
                    sum = BitOperations.Crc32C(sum, word);
                }
            }

            ulong changed = unchecked((ulong)file.LastWriteTimeUtc.Ticks);
            return (length, unchecked((changed * 0x9E3779B97F4A7C15) ^ sum));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return (0, 0); // reading it says why
        }
    }
}
