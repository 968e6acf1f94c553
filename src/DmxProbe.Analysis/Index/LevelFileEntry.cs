using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>Where a stream stands in a block of a review file, and what can be said without reading it.</summary>
internal sealed record LevelFileEntry
{
    private const int MostFrames = 1 << 28;
    private const int MostNotes = 1 << 20;

    /// <summary>Where its table stands.</summary>
    public required long Offset { get; init; }

    /// <summary>Octets of its times.</summary>
    public required int TimesLength { get; init; }

    /// <summary>Frames.</summary>
    public required int Frames { get; init; }

    /// <summary>Most slots of a frame.</summary>
    public required int MostCount { get; init; }

    /// <summary>Time of the first frame.</summary>
    public required Timestamp First { get; init; }

    /// <summary>Earliest time of a frame.</summary>
    public required Timestamp Earliest { get; init; }

    /// <summary>Latest time of a frame.</summary>
    public required Timestamp Latest { get; init; }

    /// <summary>How many slots were sent, from which frame on.</summary>
    public required IReadOnlyList<(int Frame, int Value)> Counts { get; init; }

    /// <summary>At which priority, from which frame on.</summary>
    public required IReadOnlyList<(int Frame, int Value)> Priorities { get; init; }

    /// <summary>When the stream was ended, and after how many frames.</summary>
    public required IReadOnlyList<(int Frame, Timestamp Time)> Ends { get; init; }

    /// <summary>The entry of a track.</summary>
    public static LevelFileEntry Of(LevelTrack track, long offset) => new()
    {
        Offset = offset,
        TimesLength = track.Times.Length,
        Frames = track.Frames,
        MostCount = track.MostCount,
        First = track.First,
        Earliest = track.Earliest,
        Latest = track.Latest,
        Counts = [.. track.Counts],
        Priorities = [.. track.Priorities],
        Ends = [.. track.Ends],
    };

    /// <summary>The value at a frame; the first where none is said.</summary>
    public static int At(IReadOnlyList<(int Frame, int Value)> values, int frame)
    {
        int value = 0;
        foreach ((int from, int each) in values)
        {
            if (from > frame)
            {
                break;
            }

            value = each;
        }

        return value;
    }

    /// <summary>Writes it.</summary>
    public void WriteTo(ref Octets directory)
    {
        directory.AddNumber((ulong)Offset);
        directory.AddNumber((ulong)TimesLength);
        directory.AddNumber((ulong)Frames);
        directory.AddNumber((ulong)MostCount);
        directory.AddSigned(First.UnixNanoseconds);
        directory.AddSigned(Earliest.UnixNanoseconds);
        directory.AddSigned(Latest.UnixNanoseconds);
        foreach (IReadOnlyList<(int Frame, int Value)> values in new[] { Counts, Priorities })
        {
            directory.AddNumber((ulong)values.Count);
            foreach ((int frame, int value) in values)
            {
                directory.AddNumber((ulong)frame);
                directory.AddNumber((ulong)value);
            }
        }

        directory.AddNumber((ulong)Ends.Count);
        foreach ((int frame, Timestamp time) in Ends)
        {
            directory.AddNumber((ulong)frame);
            directory.AddSigned(time.UnixNanoseconds);
        }
    }

    /// <summary>Reads one; null where it cannot be one.</summary>
    public static LevelFileEntry? Read(ref OctetReader directory, long fileLength)
    {
        ulong offset = directory.Number();
        LevelFileEntry entry = new()
        {
            Offset = (long)Math.Min(offset, long.MaxValue),
            TimesLength = directory.Count(int.MaxValue),
            Frames = directory.Count(MostFrames),
            MostCount = directory.Count(LevelTrack.MostSlots),
            First = Timestamp.FromUnixNanoseconds(directory.Signed()),
            Earliest = Timestamp.FromUnixNanoseconds(directory.Signed()),
            Latest = Timestamp.FromUnixNanoseconds(directory.Signed()),
            Counts = Values(ref directory, LevelTrack.MostSlots),
            Priorities = Values(ref directory, byte.MaxValue),
            Ends = Times(ref directory),
        };
        bool fits = entry.Offset <= fileLength && entry.TimesLength <= fileLength && entry.Frames - 1 <= entry.TimesLength;
        return directory.IsBroken || !fits ? null : entry;
    }

    private static List<(int Frame, int Value)> Values(ref OctetReader directory, int most)
    {
        List<(int, int)> values = [];
        for (int left = directory.Count(MostNotes); left > 0 && !directory.IsBroken; left--)
        {
            values.Add((directory.Count(MostFrames), directory.Count(most)));
        }

        return values;
    }

    private static List<(int Frame, Timestamp Time)> Times(ref OctetReader directory)
    {
        List<(int, Timestamp)> values = [];
        for (int left = directory.Count(MostNotes); left > 0 && !directory.IsBroken; left--)
        {
            values.Add((directory.Count(MostFrames), Timestamp.FromUnixNanoseconds(directory.Signed())));
        }

        return values;
    }
}
