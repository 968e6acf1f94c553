namespace DmxProbe.Analysis.Locate.Together;

/// <summary>
/// The units of one sheet universe in order of their addresses as a hidden chain: each reads where the shift that holds at its place
/// puts it, or by an error of its own; the shift holds on to the next unit unless something changes it, most likely a unit that takes
/// more or fewer slots than the sheet gives it.
/// </summary>
internal sealed class RowChain
{
    /// <summary>Chance that a unit does not follow the row.</summary>
    private const double OwnError = 0.05;

    /// <summary>Chance that a unit that follows the row is in another mode than the sheet's.</summary>
    private const double OtherMode = 0.06;

    /// <summary>Chance that the shift holds on behind a unit in the sheet's mode.</summary>
    private const double Stays = 0.97;

    /// <summary>Chance that behind a unit in another mode everything is shifted by what it takes more.</summary>
    private const double Follows = 0.6;

    /// <summary>Chance that behind such a unit nothing changes.</summary>
    private const double Unmoved = 0.37;

    private const double Begins = 0.7;
    private const double OpenNats = 12;
    private const int MostShifts = 300;

    private readonly UnitInRow[] _units;
    private readonly LocateResult[] _alone;
    private readonly RowShift[] _shifts;
    private readonly Dictionary<RowShift, int> _indices = [];

    // By unit and mode, for each shift: how well the unit's light goes with it.
    private readonly double[][][] _emission;

    // By unit, for each shift: what the units in front of it say.
    private readonly double[][] _before;

    // By unit and mode, for each shift at the unit: what the units behind it say.
    private readonly double[][][] _after;

    /// <summary>Works the chain out.</summary>
    /// <param name="units">In order of their addresses, all on one sheet universe.</param>
    /// <param name="alone">What the light of each says.</param>
    public RowChain(IReadOnlyList<UnitInRow> units, IReadOnlyList<LocateResult> alone)
    {
        _units = [.. units];
        _alone = [.. alone];
        Speaks = [.. alone.Select(result => result.Fit is { } fit && LocateRule.Normal.AllowsFit(Moved(fit)) && result.Likelihoods.Count > 0)];
        _shifts = Shifts();
        for (int s = 0; s < _shifts.Length; s++)
        {
            _indices.Add(_shifts[s], s);
        }

        _emission = [.. Enumerable.Range(0, _units.Length).Select(Emission)];
        _before = new double[_units.Length][];
        _after = new double[_units.Length][][];
        PassForward();
        PassBackward();
        Path = Likeliest();
    }

    /// <summary>Whether the light of each unit says anything.</summary>
    public bool[] Speaks { get; }

    /// <summary>The likeliest shift at each unit.</summary>
    public RowShift[] Path { get; }

    /// <summary>Posterior of a shift at a unit.</summary>
    public double At(int unit, RowShift shift)
    {
        if (!_indices.TryGetValue(shift, out int index))
        {
            return 0;
        }

        double sum = 0;
        double own = 0;
        for (int m = 0; m < _emission[unit].Length; m++)
        {
            for (int s = 0; s < _shifts.Length; s++)
            {
                double weight = _before[unit][s] * _emission[unit][m][s] * _after[unit][m][s];
                sum += weight;
                own += s == index ? weight : 0;
            }
        }

        return own / Math.Max(sum, 1e-300);
    }

    /// <summary>What the other units make of a unit's hypotheses, as a log-likelihood ratio to what was likely without them; at most 6 nats either way.</summary>
    public Func<Hypothesis, double> Message(int unit)
    {
        const double MostNats = 6;
        UnitInRow row = _units[unit];
        double[][] others = [.. Enumerable.Range(0, _emission[unit].Length).Select(m =>
            _before[unit].Select((before, s) => before * ModeShare(row, m) * _after[unit][m][s]).ToArray())];
        double sum = Math.Max(others.Sum(mode => mode.Sum()), 1e-300);
        Dictionary<Hypothesis, double> prior = Prior(unit, out double floor);
        return hypothesis =>
        {
            double own = prior.GetValueOrDefault(hypothesis) + floor;
            double follows = _indices.TryGetValue(new RowShift(hypothesis.History, hypothesis.Address - row.Address), out int s) ? others[hypothesis.Mode][s] / sum : 0;
            return Math.Clamp(Math.Log(((OwnError * own) + ((1 - OwnError) * follows)) / own), -MostNats, MostNats);
        };
    }

    // A light that moved once or twice is never enough for a claim about itself, but it has its say about the row.
    private static LocateFit Moved(LocateFit fit) =>
        fit.Changes > 0 && fit.LightChanges > 0 ? fit with { Changes = Math.Max(fit.Changes, LocateRule.FewestMoves) } : fit;

    private static double ModeShare(UnitInRow unit, int mode)
    {
        int modes = unit.Question.Modes.Count;
        return modes == 1 ? 1 : mode == 0 ? 1 - OtherMode : OtherMode / (modes - 1);
    }

    private RowShift[] Shifts()
    {
        Dictionary<RowShift, double> weights = [];
        for (int i = 0; i < _units.Length; i++)
        {
            if (!Speaks[i])
            {
                continue;
            }

            double top = _alone[i].Likelihoods.Max(each => each.Nats);
            foreach (HypothesisNats each in _alone[i].Likelihoods.Where(each => each.Nats >= top - OpenNats))
            {
                RowShift shift = new(each.Hypothesis.History, each.Hypothesis.Address - _units[i].Address);
                weights[shift] = weights.GetValueOrDefault(shift) + Math.Exp(each.Nats - top);
            }
        }

        RowShift[] none = [.. _units.Where(unit => unit.History >= 0).Select(unit => new RowShift(unit.History, 0)).Distinct()];
        return [.. none.Concat(weights.OrderByDescending(pair => pair.Value).ThenBy(pair => pair.Key.History).ThenBy(pair => pair.Key.Slots).Select(pair => pair.Key)).Distinct().Take(MostShifts)];
    }

    private Dictionary<Hypothesis, double> Prior(int unit, out double floor)
    {
        const double Floor = 0.14;
        LocateQuestion question = _units[unit].Question;
        floor = Floor / (question.Histories.Count * SlotHistory.SlotCount * question.Modes.Count);
        double sum = Math.Max(question.Prior.Sum(candidate => candidate.Weight), 1e-12);
        Dictionary<Hypothesis, double> prior = [];
        foreach (PriorCandidate candidate in question.Prior)
        {
            prior[candidate.Hypothesis] = prior.GetValueOrDefault(candidate.Hypothesis) + ((1 - Floor) * candidate.Weight / sum);
        }

        return prior;
    }

    // A light that says nothing leaves every shift as likely as it was. A unit with an error of its own counts as in the sheet's mode:
    // what it takes does not matter then.
    private double[][] Emission(int unit)
    {
        UnitInRow row = _units[unit];
        double[][] emission = [.. row.Question.Modes.Select((_, m) => new double[_shifts.Length])];
        if (!Speaks[unit])
        {
            for (int m = 0; m < emission.Length; m++)
            {
                Array.Fill(emission[m], ModeShare(row, m));
            }

            return emission;
        }

        double top = _alone[unit].Likelihoods.Max(each => each.Nats);
        Dictionary<Hypothesis, double> prior = Prior(unit, out double floor);
        double own = 0;
        foreach (HypothesisNats each in _alone[unit].Likelihoods)
        {
            double likelihood = Math.Exp(each.Nats - top);
            own += (prior.GetValueOrDefault(each.Hypothesis) + floor) * likelihood;
            if (_indices.TryGetValue(new RowShift(each.Hypothesis.History, each.Hypothesis.Address - row.Address), out int s))
            {
                emission[each.Hypothesis.Mode][s] += (1 - OwnError) * ModeShare(row, each.Hypothesis.Mode) * likelihood;
            }
        }

        for (int s = 0; s < _shifts.Length; s++)
        {
            emission[0][s] += OwnError * own;
        }

        return emission;
    }

    private void PassForward()
    {
        int count = _shifts.Length;
        double rest = (1 - Begins) / count;
        _before[0] = [.. _shifts.Select(shift => rest + (_units[0].History == shift.History && shift.Slots == 0 ? Begins : 0))];
        for (int i = 1; i < _units.Length; i++)
        {
            double[] next = new double[count];
            for (int m = 0; m < _emission[i - 1].Length; m++)
            {
                int step = StepOf(i - 1, m);
                double[] from = [.. _before[i - 1].Select((before, s) => before * _emission[i - 1][m][s])];
                double spread = from.Sum() * Rest(step) / count;
                for (int s = 0; s < count; s++)
                {
                    next[s] += spread + (Stay(step) * from[s]);
                    next[s] += step != 0 && _indices.TryGetValue(_shifts[s] with { Slots = _shifts[s].Slots - step }, out int at) ? Follows * from[at] : 0;
                }
            }

            _before[i] = Normal(next);
        }
    }

    private void PassBackward()
    {
        int count = _shifts.Length;
        _after[^1] = [.. _units[^1].Question.Modes.Select(_ => _shifts.Select(_ => 1.0).ToArray())];
        for (int i = _units.Length - 2; i >= 0; i--)
        {
            double[] behind = Normal([.. _shifts.Select((_, s) => Enumerable.Range(0, _emission[i + 1].Length).Sum(m => _emission[i + 1][m][s] * _after[i + 1][m][s]))]);
            _after[i] = [.. Enumerable.Range(0, _emission[i].Length).Select(m =>
            {
                int step = StepOf(i, m);
                double spread = behind.Sum() * Rest(step) / count;
                return _shifts.Select((shift, s) => spread + (Stay(step) * behind[s]) +
                    (step != 0 && _indices.TryGetValue(shift with { Slots = shift.Slots + step }, out int at) ? Follows * behind[at] : 0)).ToArray();
            })];
        }
    }

    /// <summary>By how many slots more a unit takes in a mode.</summary>
    private int StepOf(int unit, int mode) => _units[unit].Question.Modes[mode].Footprint - _units[unit].Question.Modes[0].Footprint;

    private static double Stay(int step) => step == 0 ? Stays : Unmoved;

    private static double Rest(int step) => 1 - Stay(step) - (step == 0 ? 0 : Follows);

    // The likeliest shift at each place by itself: what is said of a run needs it to be nearly certain at every unit anyway.
    private RowShift[] Likeliest() =>
        [.. Enumerable.Range(0, _units.Length).Select(i => _shifts[Enumerable.Range(0, _shifts.Length).MaxBy(s =>
            Enumerable.Range(0, _emission[i].Length).Sum(m => _before[i][s] * _emission[i][m][s] * _after[i][m][s]))])];

    private static double[] Normal(double[] weights)
    {
        double sum = Math.Max(weights.Sum(), 1e-300);
        return [.. weights.Select(weight => weight / sum)];
    }
}
