using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Merge;

/// <summary>
/// Which sender a conforming receiver obeys, per whole universe and over time. sACN: the highest priority among the
/// sources present (E1.31-2018 section 6.2.3); a source is gone 2.5 s after its last packet or at its first packet with
/// Stream_Terminated (section 6.7.1); preview data takes no part (our reading of section 6.2.6). Art-Net has no priority:
/// all senders present are named together, and one stays in the merge for 10 s after its last packet (Art-Net 4, 1.4dn,
/// pages 76 and 77). Expiries take effect at their own time, so the result does not depend on when it is asked for.
/// </summary>
public sealed class ObeyedSenderAnalyzer : IAnalyzer
{
    /// <summary>Most spans kept per universe; further changes are counted.</summary>
    public const int MostSpans = 256;

    private readonly PerIndex<Universe> _universes = new();
    private Timestamp _now = Timestamp.MinValue;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if ((frame.Flags & FrameFlags.Preview) != 0)
        {
            return;
        }

        ref Universe universe = ref _universes[frame.UniverseIndex];
        bool ends = (frame.Flags & FrameFlags.Terminated) != 0;
        Duration loss = ProtocolTimes.LossOf(frame.Universe.Protocol);
        if (universe.Count == 1 && !ends)
        {
            // The usual case: one sender, still the same, nothing can have changed.
            ref Claim only = ref universe.Claims[0];
            if (only.Stream == frame.Stream && only.Priority == frame.Priority && frame.Time - only.Last <= loss)
            {
                only.Last = frame.Time;
                return;
            }
        }

        universe.HasPriority = frame.Universe.Protocol == UniverseProtocol.Sacn;
        universe.Claims ??= [];
        Expire(ref universe, frame.Time, loss);
        if (ends)
        {
            universe.Remove(frame.Stream);
        }
        else if (!universe.Refresh(frame.Stream, frame.Sender, frame.Priority, frame.Time))
        {
            return;
        }

        Settle(ref universe, frame.Time);
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent is not { Kind: LinkEventKind.CaptureLoss, B: 1 })
        {
            return;
        }

        // The capture did not listen just now: whoever was there until then is not gone for that.
        for (int i = 0; i < _universes.Count; i++)
        {
            ref Universe universe = ref _universes[i];
            if (universe.Claims is not null)
            {
                Expire(ref universe, linkEvent.Time, ProtocolTimes.LossOf(universe.HasPriority ? UniverseProtocol.Sacn : UniverseProtocol.ArtNet));
                universe.Hold(linkEvent.Time);
            }
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        if (now > _now)
        {
            _now = now;
        }
    }

    /// <summary>The spans of a universe up to the time last told, oldest first.</summary>
    /// <param name="universe">Index of the universe.</param>
    /// <param name="protocol">Its protocol, which decides when a sender counts as gone.</param>
    /// <param name="notListed">Spans beyond those kept.</param>
    public IReadOnlyList<ObeyedSpan> Snapshot(int universe, UniverseProtocol protocol, out long notListed)
    {
        notListed = 0;
        if (universe >= _universes.Count || _universes[universe].Claims is null)
        {
            return [];
        }

        // On a copy: what is asked for early must not change what is found later.
        Universe copy = _universes[universe].Copy();
        Expire(ref copy, _now, ProtocolTimes.LossOf(protocol));
        Timestamp end = _now > copy.From ? _now : copy.From;
        List<ObeyedSpan> spans = copy.Spans ?? [];
        if (copy.Winners is not null)
        {
            Add(spans, new ObeyedSpan(copy.From, end, copy.Winners, copy.Priority), ref copy.NotListed);
        }

        notListed = copy.NotListed;
        return spans;
    }

    // Takes out the claims that ran out before a time, earliest first, each at its own moment.
    private static void Expire(ref Universe universe, Timestamp now, Duration loss)
    {
        while (true)
        {
            int earliest = -1;
            for (int i = 0; i < universe.Count; i++)
            {
                if (now - universe.Claims[i].Last > loss
                    && (earliest < 0 || universe.Claims[i].Last < universe.Claims[earliest].Last))
                {
                    earliest = i;
                }
            }

            if (earliest < 0)
            {
                return;
            }

            Timestamp at = universe.Claims[earliest].Last + loss;
            universe.RemoveAt(earliest);
            Settle(ref universe, at);
        }
    }

    // Works out who is in charge now and closes the span before when that changed.
    private static void Settle(ref Universe universe, Timestamp at)
    {
        int top = -1;
        for (int i = 0; i < universe.Count; i++)
        {
            top = Math.Max(top, universe.HasPriority ? universe.Claims[i].Priority : 0);
        }

        List<int> winners = [];
        for (int i = 0; i < universe.Count; i++)
        {
            if (!universe.HasPriority || universe.Claims[i].Priority == top)
            {
                winners.Add(universe.Claims[i].Sender);
            }
        }

        winners.Sort();
        int priority = universe.HasPriority ? top : -1;
        if (universe.Winners is not null)
        {
            if (universe.Priority == priority && universe.Winners.AsSpan().SequenceEqual([.. winners]))
            {
                return;
            }

            if (at > universe.From)
            {
                universe.Spans ??= [];
                Add(universe.Spans, new ObeyedSpan(universe.From, at, universe.Winners, universe.Priority), ref universe.NotListed);
            }
        }

        universe.Winners = [.. winners];
        universe.Priority = priority;
        universe.From = at;
    }

    private static void Add(List<ObeyedSpan> spans, ObeyedSpan span, ref long notListed)
    {
        if (spans.Count < MostSpans)
        {
            spans.Add(span);
        }
        else
        {
            notListed++;
        }
    }

    private struct Claim
    {
        public int Stream;
        public int Sender;
        public byte Priority;
        public Timestamp Last;
    }

    private struct Universe
    {
        public Claim[] Claims;
        public int Count;
        public bool HasPriority;
        public int[]? Winners;
        public int Priority;
        public Timestamp From;
        public List<ObeyedSpan>? Spans;
        public long NotListed;

        public readonly void Hold(Timestamp until)
        {
            for (int i = 0; i < Count; i++)
            {
                Claims[i].Last = until > Claims[i].Last ? until : Claims[i].Last;
            }
        }

        public readonly Universe Copy()
        {
            Universe copy = this;
            copy.Claims = [.. Claims];
            copy.Spans = Spans is null ? null : [.. Spans];
            return copy;
        }

        // True when the set of claims or their priorities changed.
        public bool Refresh(int stream, int sender, byte priority, Timestamp time)
        {
            for (int i = 0; i < Count; i++)
            {
                ref Claim claim = ref Claims[i];
                if (claim.Stream == stream)
                {
                    bool changed = claim.Priority != priority;
                    claim.Priority = priority;
                    claim.Last = time;
                    return changed;
                }
            }

            if (Count == Claims.Length)
            {
                Array.Resize(ref Claims, Math.Max(2, Count * 2));
            }

            Claims[Count++] = new Claim { Stream = stream, Sender = sender, Priority = priority, Last = time };
            return true;
        }

        public void Remove(int stream)
        {
            for (int i = 0; i < Count; i++)
            {
                if (Claims[i].Stream == stream)
                {
                    RemoveAt(i);
                    return;
                }
            }
        }

        public void RemoveAt(int index)
        {
            Claims[index] = Claims[--Count];
        }
    }
}
