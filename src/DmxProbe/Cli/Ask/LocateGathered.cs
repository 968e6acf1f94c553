using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli.Ask;

/// <summary>Everything that is known of a light before questions are asked: capture, sheet, trace, notes, taps.</summary>
internal sealed class LocateGathered
{
    private readonly AskJudge _judge;

    private LocateGathered(LocateCase about, AskRig rig, double[] prior, int sheet)
    {
        About = about;
        Rig = rig;
        Sheet = sheet;
        Posterior = new AskPosterior(rig.Space, prior);
        _judge = new AskJudge(about.Question, rig.Space, prior);
    }

    /// <summary>What it is about.</summary>
    public LocateCase About { get; }

    /// <summary>What questions are made from.</summary>
    public AskRig Rig { get; private set; }

    /// <summary>All evidence.</summary>
    public AskPosterior Posterior { get; }

    /// <summary>Index of the sheet's place; -1 where it was not captured.</summary>
    public int Sheet { get; }

    /// <summary>What was captured.</summary>
    public IReadOnlyList<SlotHistory> Histories => About.Question.Histories;

    /// <summary>Gathers; a trace is weighed at once.</summary>
    /// <param name="about">Capture, sheet, charts, unit, trace.</param>
    /// <param name="map">Which universe of the wire each universe of the sheet is.</param>
    public static LocateGathered Of(LocateCase about, UniverseMap map)
    {
        LocateQuestion question = about.Question;
        UniverseId[] universes = [.. question.Histories.Select(history => history.Universe).Distinct()];
        IReadOnlyList<ChartMode> order = about.Charts.Find(about.Unit.Type)?.Modes ?? [];
        AskSpace space = new(universes, question.Modes, [.. question.Modes.Select(mode => order.ToList().IndexOf(mode) + 1)]);
        int[] numbers = [.. universes.Select(universe => map.Wire.Where(pair => pair.Value == universe).Select(pair => pair.Key).FirstOrDefault(-1))];
        byte[][] held = [.. universes.Select(universe => Held(question.Histories.First(history => history.Universe == universe)))];
        AskUnit[] units =
        [
            .. about.Sheet.Units.Select(unit => new AskUnit(
                unit.Unit,
                map.Wire.TryGetValue(unit.Universe, out UniverseId wire) ? Array.IndexOf(universes, wire) : -1,
                unit.Address,
                about.Charts.Find(unit.Type, unit.Mode))),
        ];
        (AskPlace, double)[] likely =
        [
            .. question.Prior.GroupBy(candidate => new AskPlace(Array.IndexOf(universes, question.Histories[candidate.Hypothesis.History].Universe), candidate.Hypothesis.Address, candidate.Hypothesis.Mode))
                .Select(same => (same.Key, same.Max(candidate => candidate.Weight))),
        ];
        int own = map.Wire.TryGetValue(about.Unit.Universe, out UniverseId there) ? Array.IndexOf(universes, there) : -1;
        int mode = question.Modes.ToList().FindIndex(each => each.Name.Equals(about.Unit.Mode, StringComparison.OrdinalIgnoreCase));
        int sheet = own >= 0 && mode >= 0 ? space.IndexOf(new AskPlace(own, about.Unit.Address, mode)) : -1;
        LocateGathered gathered = new(about, new AskRig(space, about.Unit.Unit, units, numbers, held), AskPrior.Of(space, likely), sheet);
        if (question.Trace is not null)
        {
            gathered.Posterior.Add(TraceEvidence.Of(space, question.Histories, LocateInference.Run(question)));
        }

        foreach (LocateReport report in question.Reports)
        {
            gathered.Posterior.Add(DeviceEvidence.Of(space, [.. question.Histories.Select(history => history.Universe)], report));
        }

        return gathered;
    }

    /// <summary>Universes that several senders decide, and how many.</summary>
    public IReadOnlyDictionary<UniverseId, int> Shared { get; set; } = new Dictionary<UniverseId, int>();

    /// <summary>Why no question may be put about this unit; empty where one may.</summary>
    public string Refusal => Rig.Units.FirstOrDefault(unit => unit.Name == Rig.Unit) is { Universe: >= 0 } own &&
        Shared.TryGetValue(Rig.Space.Universes[own.Universe], out int senders) ? SharedUniverses.Refusal(Rig.Space.Universes[own.Universe], senders, Printable.Text(Rig.Unit)) : "";

    /// <summary>Names moments by a clock from now on.</summary>
    public void Show(Func<Timestamp, string> clock) => Rig = Rig with { Clock = clock };

    /// <summary>Adds the notes of a text.</summary>
    /// <param name="text">The notes.</param>
    /// <param name="name">Their file, for the sentence.</param>
    /// <param name="zone">The zone of times of day.</param>
    /// <param name="first">Time of the capture's first record.</param>
    /// <param name="mayBeEmpty">Whether no line about the unit is no fault: the log of this or an earlier session.</param>
    /// <exception cref="UsageException">A line is none, or none is about the unit; one sentence with its place.</exception>
    public void AddNotes(TextReader text, string name, TimeZoneInfo zone, Timestamp first, bool mayBeEmpty)
    {
        NotesReading reading = NotesReader.Read(text, Rig, About.Sheet, About.Unit.Unit, cell => Time(cell, zone, first));
        if (reading.Problem is InputProblem wrong)
        {
            throw new UsageException($"{name}: {wrong}");
        }

        if (reading.Notes.Count == 0 && !mayBeEmpty)
        {
            string whose = reading.Others.Count > 0 ? $"they are for {string.Join(", ", reading.Others)}{(reading.Others.Count == 3 ? " and maybe more" : "")}" : "there is no line below the headings";
            throw new UsageException($"{name}: the notes hold no line for {About.Unit.Unit} ({whose}); name the notes of that unit, or leave --notes out");
        }

        IReadOnlyList<AskEvidence> evidence = NotesEvidence.Of(Rig, Histories, reading.Notes, out InputProblem? problem);
        if (problem is not null)
        {
            throw new UsageException($"{name}: {problem}");
        }

        foreach (AskEvidence piece in evidence)
        {
            Posterior.Add(piece);
        }
    }

    /// <summary>What may be said now.</summary>
    public LocateResult Judge() => _judge.Judge(Posterior, Sheet);

    private static Timestamp? Time(string cell, TimeZoneInfo zone, Timestamp first)
    {
        try
        {
            return AskedTime.Parse(cell, zone, "time").In(first);
        }
        catch (UsageException)
        {
            return null;
        }
        catch (ArgumentException)
        {
            // A time of day that the zone skips when clocks go forward.
            return null;
        }
    }

    private static byte[] Held(SlotHistory history)
    {
        byte[] levels = new byte[SlotHistory.SlotCount];
        for (int slot = 1; slot <= levels.Length; slot++)
        {
            levels[slot - 1] = history.LevelAt(slot, history.Samples);
        }

        return levels;
    }
}
