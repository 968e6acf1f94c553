using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// Who decides some slots at several times, in one pass. A time is answered once a later record comes, so that everything
/// of that very time counts.
/// </summary>
/// <param name="asks">The ranges of slots, each with the universes it may be meant of.</param>
public sealed class ArbitrationTable(IReadOnlyList<SlotAsk> asks) : IAnalyzer
{
    private readonly HashSet<UniverseId> _universes = [.. asks.SelectMany(ask => ask.Universes)];
    private readonly SortedDictionary<UniverseId, int> _indexes = [];
    private readonly List<SlotAnswer> _answers = [];
    private ArbitrationAnalyzer? _arbitration;
    private IReadOnlyList<Timestamp>? _times;
    private int _answered;

    /// <summary>Asked once records come: the times, ascending; null while they are not known. By itself the end of the traffic.</summary>
    public Func<IReadOnlyList<Timestamp>?>? Times { get; init; }

    private ArbitrationAnalyzer Arbitration => _arbitration ??= new ArbitrationAnalyzer { Follow = _universes.Contains };

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (_universes.Contains(frame.Universe))
        {
            AnswerBefore(frame.Time);
            _indexes.TryAdd(frame.Universe, frame.UniverseIndex);
            Arbitration.OnFrame(in frame);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        AnswerBefore(linkEvent.Time);
        Arbitration.OnEvent(in linkEvent);
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        AnswerBefore(now);
        Arbitration.OnTime(now);
    }

    /// <summary>The answers, by time and then as asked; a universe that sent no levels by then is left out.</summary>
    /// <param name="last">The last moment of the traffic: times up to it that are still open are answered.</param>
    public IReadOnlyList<SlotAnswer> Answers(Timestamp last)
    {
        IReadOnlyList<Timestamp> times = (_times ??= Times?.Invoke()) ?? [last];
        while (_answered < times.Count && times[_answered] <= last)
        {
            Answer(times[_answered++]);
        }

        return _answers;
    }

    private void AnswerBefore(Timestamp now)
    {
        _times ??= Times?.Invoke();
        while (_times is not null && _answered < _times.Count && _times[_answered] < now)
        {
            Answer(_times[_answered++]);
        }
    }

    private void Answer(Timestamp at)
    {
        Arbitration.OnTime(at);
        foreach (SlotAsk ask in asks)
        {
            foreach (UniverseId universe in ask.Universes)
            {
                if (_indexes.TryGetValue(universe, out int index))
                {
                    _answers.AddRange(Arbitration.Ask(index, ask.FromSlot, ask.ToSlot));
                }
            }
        }
    }
}
