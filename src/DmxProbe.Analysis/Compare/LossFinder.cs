using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>Finds where all senders of a universe fell silent and what the line did then.</summary>
internal static class LossFinder
{
    private const int Most = 64;

    // Longer than any keep-alive of sACN (1 s); Art-Net's may be 4 s.
    private static readonly Duration LeastSilence = Duration.FromMilliseconds(1500);
    private static readonly Duration LeastSilenceArtNet = Duration.FromMilliseconds(4500);
    private static readonly Duration LeastStop = Duration.FromMilliseconds(1250);

    public static List<LossObservation> Find(TapRecording network, IReadOnlyList<TapStream> senders, LineFrames line, Duration offset)
    {
        List<LossObservation> found = [];
        foreach ((Timestamp from, Timestamp to) in Silences(network, senders))
        {
            if (found.Count < Most && Watch(from, to, line, offset) is LossObservation seen)
            {
                found.Add(seen);
            }
        }

        return found;
    }

    /// <summary>From the last packet before a silence of all senders to the first behind it, or to the end of the tap.</summary>
    public static List<(Timestamp From, Timestamp To)> Silences(TapRecording network, IReadOnlyList<TapStream> senders)
    {
        Duration least = senders[0].Universe.Protocol == Decoding.UniverseProtocol.Sacn ? LeastSilence : LeastSilenceArtNet;
        List<Timestamp> packets =
        [
            .. senders.SelectMany(sender => sender.Frames).Select(frame => frame.Time).Order(),
        ];
        List<(Timestamp, Timestamp)> found = [];
        for (int i = 0; i < packets.Count; i++)
        {
            Timestamp next = i + 1 < packets.Count ? packets[i + 1] : network.Last;
            if (next - packets[i] >= least)
            {
                found.Add((packets[i], next));
            }
        }

        return found;
    }

    private static LossObservation? Watch(Timestamp lost, Timestamp until, LineFrames line, Duration offset)
    {
        Timestamp from = lost + offset + TapAlignment.Window;
        Timestamp to = until + offset < line.End ? until + offset : line.End;
        int at = line.All.FindIndex(frame => frame.Time >= from);
        if (to - from < LeastStop)
        {
            return null;
        }

        if (at < 0 || line.All[at].Time - from >= LeastStop)
        {
            int before = at < 0 ? line.All.Count - 1 : at - 1;
            return before < 0 ? null : new LossObservation(lost, AfterLoss.StopsSending, line.All[before].Time - offset - lost);
        }

        ulong held = line.All[at].Carried.Hash;
        Timestamp last = line.All[at].Time;
        for (int i = at; i < line.All.Count && line.All[i].Time < to; i++)
        {
            (Timestamp time, OutputChange carried) = line.All[i];
            if (time - last >= LeastStop)
            {
                break;
            }

            // A line that was dark before stays as it was.
            bool wentDark = IsDark(carried.Slots) && FirstOf(line, i) - offset > lost;
            if (carried.Hash != held || wentDark)
            {
                return new LossObservation(lost, wentDark ? AfterLoss.GoesDark : AfterLoss.GoesElsewhere, FirstOf(line, i) - offset - lost);
            }

            last = time;
        }

        return to - last >= LeastStop
            ? new LossObservation(lost, AfterLoss.StopsSending, last - offset - lost)
            : new LossObservation(lost, AfterLoss.Holds, last - offset - lost);
    }

    // The frame that began the content of a frame.
    private static Timestamp FirstOf(LineFrames line, int frame)
    {
        int first = frame;
        while (first > 0 && line.All[first - 1].Carried.Hash == line.All[frame].Carried.Hash)
        {
            first--;
        }

        return line.All[first].Time;
    }

    private static bool IsDark(byte[] slots) => slots.AsSpan().IndexOfAnyExcept((byte)0) < 0;
}
