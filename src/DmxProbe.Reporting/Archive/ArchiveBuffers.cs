namespace DmxProbe.Reporting.Archive;

/// <summary>
/// Room in which row groups are put together, shared by all tables of an archive: one is written at a time. What is handed out
/// holds until the same kind is asked for again.
/// </summary>
internal sealed class ArchiveBuffers
{
    private string[] _texts = [];
    private int[] _numbers = [];
    private long[] _micros = [];
    private int[] _levels = [];
    private int[] _repetitions = [];

    /// <summary>The same text in all rows.</summary>
    public ArraySegment<string> Same(string text, int rows)
    {
        ArraySegment<string> room = Room(ref _texts, rows);
        room.AsSpan().Fill(text);
        return room;
    }

    /// <summary>Texts.</summary>
    /// <param name="rows">How many.</param>
    /// <param name="texts">Them.</param>
    public ArraySegment<string> Texts(int rows, IEnumerable<string> texts) => Fill(Room(ref _texts, rows), texts);

    /// <summary>Whole numbers.</summary>
    /// <param name="rows">How many.</param>
    /// <param name="numbers">Them.</param>
    public ReadOnlyMemory<int> Numbers(int rows, IEnumerable<int> numbers) => Fill(Room(ref _numbers, rows), numbers);

    /// <summary>Moments as microseconds, rounded down.</summary>
    /// <param name="rows">How many.</param>
    /// <param name="nanoseconds">Them, in nanoseconds.</param>
    public ReadOnlyMemory<long> Micros(int rows, IEnumerable<long> nanoseconds) => Fill(Room(ref _micros, rows), nanoseconds.Select(ParquetColumns.Microseconds));

    /// <summary>Levels as numbers.</summary>
    public ReadOnlyMemory<int> Levels(ReadOnlySpan<byte> levels)
    {
        ArraySegment<int> room = Room(ref _levels, levels.Length);
        for (int i = 0; i < levels.Length; i++)
        {
            room.Array![i] = levels[i];
        }

        return room;
    }

    /// <summary>For lists: 0 where one begins, else 1.</summary>
    /// <param name="values">Values of all lists.</param>
    /// <param name="lengths">Of each list; none is empty.</param>
    public ReadOnlyMemory<int> Repetitions(int values, IEnumerable<int> lengths)
    {
        ArraySegment<int> room = Room(ref _repetitions, values);
        room.AsSpan().Fill(1);
        int at = 0;
        foreach (int length in lengths)
        {
            room.Array![at] = 0;
            at += length;
        }

        return room;
    }

    private static ArraySegment<T> Fill<T>(ArraySegment<T> room, IEnumerable<T> values)
    {
        int at = 0;
        foreach (T value in values)
        {
            room.Array![at++] = value;
        }

        return room;
    }

    private static ArraySegment<T> Room<T>(ref T[] array, int count)
    {
        if (array.Length < count)
        {
            array = new T[Math.Max(count, 2 * array.Length)];
        }

        return new ArraySegment<T>(array, 0, count);
    }
}
