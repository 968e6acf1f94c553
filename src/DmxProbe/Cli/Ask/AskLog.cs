using System.Text;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Ask;

/// <summary>
/// The decision log: a notes file that answers are appended to as they are given, so that a second run takes up where the
/// first one ended, and at the end what was found and what was left.
/// </summary>
internal sealed class AskLog
{
    private const string Header = "time,unit,look,raised";

    private readonly Stack<long> _ends = new();
    private readonly TimeProvider _clock;

    /// <summary>Makes it; the file is made with the first line.</summary>
    /// <param name="path">The file.</param>
    /// <param name="clock">The clock.</param>
    /// <exception cref="UsageException">There is such a file, and it is no log.</exception>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public AskLog(string path, TimeProvider clock)
    {
        Path = path;
        _clock = clock;
        if (!Exists)
        {
            return;
        }

        using StreamReader text = TextFile.Open(path);
        string? first = text.ReadLine()?.TrimStart('\uFEFF').Trim();
        if (first != Header)
        {
            throw new UsageException($"{path}: this is no decision log: expected the first line '{Header}', found '{first}'; nothing was written, give --log another name");
        }
    }

    /// <summary>The file.</summary>
    public string Path { get; }

    /// <summary>Whether there is something to resume.</summary>
    public bool Exists => File.Exists(Path) || Directory.Exists(Path);

    /// <summary>Appends a line.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="look">What was seen.</param>
    /// <param name="raised">What was raised; empty for nothing.</param>
    /// <param name="at">When; null = now.</param>
    /// <exception cref="UsageException">It cannot be written.</exception>
    public void Write(string unit, string look, string raised, Timestamp? at = null)
    {
        string time = (at ?? _clock.Now()).ToString();
        try
        {
            using FileStream file = new(Path, FileMode.OpenOrCreate, FileAccess.ReadWrite);
            bool fresh = file.Length == 0;
            file.Seek(0, SeekOrigin.End);
            if (fresh)
            {
                // Stays when all lines are taken back: a file without headings would be no log.
                file.Write(Encoding.UTF8.GetBytes(Header + "\n"));
            }

            _ends.Push(file.Position);
            file.Write(Encoding.UTF8.GetBytes(string.Join(',', time, Cell(unit), Cell(look), Cell(raised)) + "\n"));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new UsageException($"{Path}: the decision log cannot be written: {failure.Message.TrimEnd('.')}; give --log another name");
        }
    }

    /// <summary>Takes the latest line of this run back.</summary>
    public void TakeBack()
    {
        if (_ends.TryPop(out long end))
        {
            using FileStream file = new(Path, FileMode.Open, FileAccess.Write);
            file.SetLength(end);
        }
    }

    private static string Cell(string text)
    {
        string plain = new([.. text.Where(character => !char.IsControl(character) && character != '"')]);
        return plain.Contains(',', StringComparison.Ordinal) || plain.StartsWith('#') ? "\"" + plain + "\"" : plain;
    }
}
