using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>
/// The stretches in which the capture itself did not listen: between two runs of a recording, while an interface was down
/// or the computer slept. Who was obeyed then, nobody heard, so nothing is claimed of it.
/// </summary>
internal sealed class Deafness
{
    // As many as spans are kept of a universe.
    private const int MostStretches = 256;

    private readonly List<(Timestamp From, Timestamp To)> _stretches = [];
    private Timestamp _heard = Timestamp.MinValue;

    /// <summary>Something was heard.</summary>
    /// <param name="time">When.</param>
    public void Heard(Timestamp time)
    {
        if (time > _heard)
        {
            _heard = time;
        }
    }

    /// <summary>Nothing was heard until now, for a reason that lies with the capture.</summary>
    /// <param name="time">Now.</param>
    public void DeafUntil(Timestamp time)
    {
        if (_heard > Timestamp.MinValue && time > _heard)
        {
            // A long stretch is told of once a second: nothing was heard in between, so it is one.
            if (_stretches.Count > 0 && _stretches[^1].To == _heard)
            {
                _stretches[^1] = (_stretches[^1].From, time);
            }
            else if (_stretches.Count < MostStretches)
            {
                _stretches.Add((_heard, time));
            }

            _heard = time;
        }
    }

    /// <summary>The spans without what nobody heard.</summary>
    /// <param name="spans">Who was obeyed when, by the packets alone.</param>
    /// <param name="loss">After how long without a packet a sender counts as gone.</param>
    public IReadOnlyList<ObeyedSpan> Without(IReadOnlyList<ObeyedSpan> spans, Duration loss) =>
        _stretches.Count == 0 ? spans : [.. spans.Select(span => Trim(span, loss)).OfType<ObeyedSpan>()];

    private ObeyedSpan? Trim(ObeyedSpan span, Duration loss)
    {
        foreach ((Timestamp from, Timestamp to) in _stretches)
        {
            // That nobody sends is known only after the time in which a sender would have been heard.
            Timestamp known = span.Senders.Count == 0 ? to + loss : to;
            if (span.From >= from && span.From < to)
            {
                if (span.To <= known)
                {
                    return null;
                }

                span = span with { From = known };
            }
            else if (span.To > from && span.To < to)
            {
                span = span with { To = from };
            }
        }

        return span;
    }
}
