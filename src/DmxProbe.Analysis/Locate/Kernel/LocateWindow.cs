using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate;

/// <summary>What was captured, read over the window of a trace.</summary>
internal sealed class LocateWindow
{
    /// <summary>Most other units whose spill is thought of; of more, those whose light is most like the trace.</summary>
    public const int MostOthers = 512;

    private const int UsualDelay = 4;

    private readonly IReadOnlyList<SlotHistory> _histories;
    private readonly UniverseWindow _universe = new();
    private readonly int[] _places;
    private int _loaded = -1;

    public LocateWindow(IReadOnlyList<SlotHistory> histories, TraceGrid trace)
    {
        _histories = histories;
        _places = trace.Places;
        Samples = trace.Count - (ChannelEvidence.Delays - 1);
        Channels = trace.Channels.Length;
    }

    /// <summary>Samples compared: those of the trace without the longest delay.</summary>
    public int Samples { get; }

    public int Channels { get; }

    /// <summary>Unpacks a history; the one before is forgotten.</summary>
    public UniverseWindow Load(int history)
    {
        if (_loaded != history)
        {
            _universe.Load(_histories[history], _places);
            _loaded = history;
        }

        return _universe;
    }

    /// <summary>The light of the other units, centred, by channel; units that do not change are left out.</summary>
    /// <param name="units">The units.</param>
    /// <param name="smoothing">Their lag.</param>
    /// <param name="trace">Where there are very many of them, those most like this are kept.</param>
    /// <param name="tails">What each goes on with for the longest delay behind the window, less the same mean.</param>
    public List<double[]>[] Others(IReadOnlyList<OtherUnit> units, Smoothing smoothing, TraceGrid trace, out List<double[]>[] tails)
    {
        int longer = Samples + ChannelEvidence.Delays - 1;
        List<double[]>[] behind = [.. Enumerable.Range(0, Channels).Select(_ => new List<double[]>())];
        tails = behind;
        List<double[]>[] columns = [.. Enumerable.Range(0, Channels).Select(_ => new List<double[]>())];
        PriorityQueue<(double[] Column, double[] Tail), double>[] likely = [.. Enumerable.Range(0, Channels).Select(_ => new PriorityQueue<(double[] Column, double[] Tail), double>())];
        double[][] seen = [.. trace.Channels.Select(channel => channel.AsSpan(UsualDelay, Samples).ToArray())];
        foreach (double[] channel in seen)
        {
            Lanes.Centre(channel);
        }

        Dictionary<ChartMode, LightReader> readers = [];
        Prediction prediction = new(Channels);
        foreach (OtherUnit unit in units.Where(unit => unit.History >= 0).OrderBy(unit => unit.History))
        {
            if (!readers.TryGetValue(unit.Mode, out LightReader? reader))
            {
                readers.Add(unit.Mode, reader = new LightReader(unit.Mode));
            }

            if (!reader.Read(Load(unit.History), unit.Address, longer, -1, prediction) || prediction.Count < 2)
            {
                continue;
            }

            for (int c = 0; c < Channels; c++)
            {
                double[] whole = new double[longer];
                prediction.Fill(c, whole);
                smoothing.Apply(whole);
                double[] column = whole[..Samples];
                double mean = Lanes.Centre(column);
                double[] tail = [.. whole[Samples..].Select(value => value - mean)];
                double squares = Lanes.Dot(column, column);
                if (squares <= LocateInference.SmallestVariance * Samples)
                {
                    continue;
                }

                if (units.Count <= MostOthers)
                {
                    columns[c].Add(column);
                    behind[c].Add(tail);
                    continue;
                }

                double like = Math.Abs(Lanes.Dot(column, seen[c])) / Math.Sqrt(squares);
                if (likely[c].Count < MostOthers)
                {
                    likely[c].Enqueue((column, tail), like);
                }
                else
                {
                    likely[c].EnqueueDequeue((column, tail), like);
                }
            }
        }

        for (int c = 0; c < Channels && units.Count > MostOthers; c++)
        {
            columns[c] = [.. likely[c].UnorderedItems.Select(item => item.Element.Column)];
            behind[c] = [.. likely[c].UnorderedItems.Select(item => item.Element.Tail)];
        }

        return columns;
    }
}
