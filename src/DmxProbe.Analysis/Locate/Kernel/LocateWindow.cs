using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate;

/// <summary>What was captured, read over the window of a trace.</summary>
internal sealed class LocateWindow
{
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
    public List<double[]>[] Others(IReadOnlyList<OtherUnit> units, Smoothing smoothing)
    {
        List<double[]>[] columns = [.. Enumerable.Range(0, Channels).Select(_ => new List<double[]>())];
        Dictionary<ChartMode, LightReader> readers = [];
        Prediction prediction = new(Channels);
        foreach (OtherUnit unit in units.Where(unit => unit.History >= 0).OrderBy(unit => unit.History))
        {
            if (!readers.TryGetValue(unit.Mode, out LightReader? reader))
            {
                readers.Add(unit.Mode, reader = new LightReader(unit.Mode));
            }

            if (!reader.Read(Load(unit.History), unit.Address, Samples, -1, prediction) || prediction.Count < 2)
            {
                continue;
            }

            for (int c = 0; c < Channels; c++)
            {
                double[] column = new double[Samples];
                prediction.Fill(c, column);
                smoothing.Apply(column);
                Lanes.Centre(column);
                if (Lanes.Dot(column, column) > LocateInference.SmallestVariance * Samples)
                {
                    columns[c].Add(column);
                }
            }
        }

        return columns;
    }
}
