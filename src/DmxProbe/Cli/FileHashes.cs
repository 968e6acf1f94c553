using System.Buffers;
using System.Security.Cryptography;

using DmxProbe.Reporting.Html;

namespace DmxProbe.Cli;

/// <summary>Lengths and SHA-256 of the files that a page rests on. A long file says how far it is, and Ctrl-C ends it.</summary>
/// <param name="host">The process.</param>
/// <param name="command">What the terminal is told is being done.</param>
internal sealed class FileHashes(ProgramHost host, string command)
{
    private const int Block = 1 << 20;

    // A file that was hashed to be told from another is not read again for the list of files.
    private readonly Dictionary<string, (long Octets, string Sha256)> _known = new(StringComparer.Ordinal);

    /// <summary>The files of an input: itself, or those in a folder that was recorded into.</summary>
    /// <param name="path">The input.</param>
    /// <param name="what">What it is.</param>
    /// <param name="shown">What it is called on the page; null: as its path.</param>
    /// <exception cref="OperationCanceledException">Ctrl-C.</exception>
    public IReadOnlyList<ReportFile> Of(string path, string what, string? shown = null) => Directory.Exists(path)
        ? [.. Directory.EnumerateFiles(path, "*.pcapng").Order(StringComparer.Ordinal)
            .Select(file => One(file, shown is null ? Path.Combine(path, Path.GetFileName(file)) : shown + "/" + Path.GetFileName(file), what))]
        : File.Exists(path) ? [One(path, shown ?? path, what)]
        : [new ReportFile(shown ?? path, null, "", what)];

    private ReportFile One(string path, string name, string what)
    {
        string full = Path.GetFullPath(path);
        if (!_known.TryGetValue(full, out (long Octets, string Sha256) found))
        {
            _known.Add(full, found = Read(path, name));
        }

        return new ReportFile(name, found.Octets, found.Sha256, what);
    }

    private (long Octets, string Sha256) Read(string path, string name)
    {
        using WaitLine wait = new(host, command);
        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, bufferSize: 0);
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] block = ArrayPool<byte>.Shared.Rent(Block);
        try
        {
            long read = 0;
            for (int count; (count = file.Read(block, 0, Block)) > 0; read += count)
            {
                host.Stop.ThrowIfCancellationRequested();
                hash.AppendData(block, 0, count);
                wait.Tell(() => FormattableString.Invariant($"SHA-256 of {name}, {read >> 20:N0} of {file.Length >> 20:N0} MiB"));
            }

            return (read, Convert.ToHexString(hash.GetHashAndReset()));
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(block);
        }
    }
}
