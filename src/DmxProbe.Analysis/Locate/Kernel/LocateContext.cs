namespace DmxProbe.Analysis.Locate;

/// <summary>What all stages share.</summary>
internal sealed class LocateContext
{
    /// <summary>Lag that is tried first, samples.</summary>
    public const double UsualTau = 2.5;

    /// <summary>Smallest response exponent.</summary>
    public const double FlattestResponse = 0.4;

    /// <summary>Largest response exponent.</summary>
    public const double SteepestResponse = 2.5;

    private readonly Dictionary<double, Smoothing> _smoothings;
    private readonly LocateQuestion _question;
    private readonly TraceGrid _trace;

    public LocateContext(LocateQuestion question, TraceGrid trace)
    {
        _question = question;
        _trace = trace;
        _smoothings = [];
        Window = new LocateWindow(question.Histories, trace);
        Histories = question.Histories.Count;
        Readers = [.. question.Modes.Select(mode => new LightReader(mode))];
        Others = Window.Others(question.Others, Smooth(UsualTau), trace, out List<double[]>[] tails);
        Channels = [.. trace.Channels.Select((channel, c) => new ChannelEvidence(channel, trace.Noise[c], Window.Samples, SpillSpace.Of(Others[c], tails[c])))];
    }

    private LocateContext(LocateContext from)
    {
        _question = from._question;
        _trace = from._trace;
        _smoothings = from._smoothings;
        Window = new LocateWindow(_question.Histories, _trace);
        Histories = from.Histories;
        Readers = [.. _question.Modes.Select(mode => new LightReader(mode))];
        Others = from.Others;
        Channels = from.Channels;
    }

    /// <summary>Lags tried, samples.</summary>
    public static double[] Taus { get; } = [1, UsualTau, 5, 9];

    public LocateWindow Window { get; }

    public int Histories { get; }

    public LightReader[] Readers { get; }

    /// <summary>The light of the other units, by channel.</summary>
    public List<double[]>[] Others { get; }

    public ChannelEvidence[] Channels { get; }

    /// <summary>The window and the longest delay.</summary>
    public int LongerWindow => Window.Samples + ChannelEvidence.Delays - 1;

    /// <summary>The same for another thread: what is worked out is shared, what is written on is not.</summary>
    public LocateContext ForAnotherThread() => new(this);

    public Smoothing Smooth(double tau)
    {
        lock (_smoothings)
        {
            return Known(tau);
        }
    }

    private Smoothing Known(double tau)
    {
        if (!_smoothings.TryGetValue(tau, out Smoothing? smoothing))
        {
            _smoothings.Add(tau, smoothing = new Smoothing(tau, LongerWindow));
        }

        return smoothing;
    }

    /// <summary>Predicts a hypothesis again, to keep.</summary>
    public void Load(Standing standing)
    {
        LightReader reader = Readers[standing.Hypothesis.Mode];
        UniverseWindow universe = Window.Load(standing.Hypothesis.History);
        standing.Prediction = new Prediction(Window.Channels);
        reader.Read(universe, standing.Hypothesis.Address, Window.Samples, -1, standing.Prediction);
        standing.Light = new HypothesisLight(standing.Prediction, []);
        standing.Weighing = standing.IsMasked ? new Weighing(Channels, standing.Prediction) : null;
    }

    /// <summary>The light of each of its colours alone; none where it does not mix.</summary>
    public List<Prediction> Emitters(Standing standing)
    {
        LightReader reader = Readers[standing.Hypothesis.Mode];
        UniverseWindow universe = Window.Load(standing.Hypothesis.History);
        List<Prediction> emitters = [];
        for (int e = 0; e < reader.EmitterCount && reader.EmitterCount > 1; e++)
        {
            Prediction emitter = new(Window.Channels);
            reader.Read(universe, standing.Hypothesis.Address, Window.Samples, e, emitter);
            emitters.Add(emitter);
        }

        return emitters;
    }
}
