using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Edge records of a channel, kept until it is known how to read them.</summary>
internal sealed class HeldRuns
{
    private readonly List<(int Start, int Length, long Number, Timestamp Time)> _records = [];
    private byte[] _octets = [];

    /// <summary>Octets held.</summary>
    public int Octets { get; private set; }

    /// <summary>Records held.</summary>
    public int Count => _records.Count;

    /// <summary>Keeps a copy of a record.</summary>
    public void Add(in CaptureRecord record)
    {
        int needed = Octets + record.Data.Length;
        if (needed > _octets.Length)
        {
            Array.Resize(ref _octets, Math.Max(needed, 2 * _octets.Length));
        }

        record.Data.CopyTo(_octets.AsSpan(Octets));
        _records.Add((Octets, record.Data.Length, record.Number, record.Time));
        Octets = needed;
    }

    /// <summary>One of them.</summary>
    public EdgeRun Run(int index, out long number, out Timestamp time)
    {
        (int start, int length, number, time) = _records[index];

        // Only runs that were read come in here.
        return EdgeRun.TryParse(_octets.AsSpan(start, length), out EdgeRun run) ? run : default;
    }

    /// <summary>Lets them go, and the memory.</summary>
    public void Clear()
    {
        _records.Clear();
        _octets = [];
        Octets = 0;
    }

    /// <summary>Every edge as its tick, oldest first, and whether it rises; at most <paramref name="most"/>.</summary>
    public List<(long Tick, bool Rises)> Edges(int most)
    {
        List<(long, bool)> edges = [];
        for (int i = 0; i < _records.Count && edges.Count < most; i++)
        {
            EdgeRun run = Run(i, out _, out _);
            bool high = run.StartLevel == LineLevel.High;
            long now = run.StartTick;
            foreach (uint step in run.Steps)
            {
                now += step;
                if (step != EdgeRun.NoEdge && edges.Count < most)
                {
                    high = !high;
                    edges.Add((now, high));
                }
            }
        }

        return edges;
    }
}
