using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>Finds errors that appear only at the far end of a line: the same packets, taken at its start and at its end.</summary>
public static class SegmentComparer
{
    private const int MostSlots = 16;
    private static readonly Duration UsualInterval = Duration.FromMilliseconds(25);

    /// <summary>Compares each line of the far tap with the line of the near tap that it follows.</summary>
    public static IReadOnlyList<SegmentComparison> Compare(TapRecording near, TapRecording far)
    {
        TapStream[] starts = [.. near.Streams.Where(IsUsable)];
        return [.. far.Streams.Where(IsUsable).Select(end => Compare(near, starts, far, end)).OfType<SegmentComparison>()];
    }

    private static bool IsUsable(TapStream stream) =>
        GatewayComparer.IsLine(stream.Universe) && stream.Frames.Any(frame => !frame.IsDamaged);

    private static SegmentComparison? Compare(TapRecording near, TapStream[] starts, TapRecording far, TapStream end)
    {
        (TapStream Start, TapAlignment Alignment)? best = null;
        foreach (TapStream start in starts)
        {
            int slots = start.Frames.Where(frame => !frame.IsDamaged).CountBy(frame => near.Slots(frame.Content).Length).MaxBy(count => count.Value).Key;
            if (TapAlignment.Find(new LineFrames(near, start, slots).Changes, new LineFrames(far, end, slots).Changes) is TapAlignment found
                && (best is null || found.Matched > best.Value.Alignment.Matched))
            {
                best = (start, found);
            }
        }

        return best is not null ? Packets(near, best.Value.Start, far, end, best.Value.Alignment.Offset)
            : starts.Length == 0 ? null
            : new SegmentComparison { Start = starts[0].Universe, End = end.Universe };
    }

    private static SegmentComparison Packets(TapRecording near, TapStream start, TapRecording far, TapStream end, Duration offset)
    {
        Duration interval = Interval(start);
        long[] bySlot = new long[513];
        long packets = 0;
        long missing = 0;
        long damagedAtEnd = 0;
        long damagedAtStart = 0;
        long different = 0;
        bool[] used = new bool[end.Frames.Count];
        int from = 0;
        foreach (TapFrame sent in start.Frames)
        {
            Timestamp at = sent.Time + offset;
            if (at < end.Frames[0].Time - interval || at + interval > far.Last)
            {
                continue;
            }

            damagedAtStart += sent.IsDamaged ? 1 : 0;
            if (sent.IsDamaged)
            {
                continue;
            }

            while (from < end.Frames.Count && end.Frames[from].Time < at - interval)
            {
                from++;
            }

            packets++;
            int match = Match(near.Slots(sent.Content), at, interval, far, end, used, from);
            if (match < 0)
            {
                missing++;
                continue;
            }

            used[match] = true;
            TapFrame came = end.Frames[match];
            if (came.IsDamaged)
            {
                damagedAtEnd++;
            }
            else if (Count(near.Slots(sent.Content), far.Slots(came.Content), bySlot))
            {
                different++;
            }
        }

        return new SegmentComparison
        {
            Start = start.Universe,
            End = end.Universe,
            IsAligned = true,
            Packets = packets,
            Missing = missing,
            DamagedAtEnd = damagedAtEnd,
            DamagedAtStart = damagedAtStart,
            Different = different,
            DifferingSlots =
            [
                .. bySlot.Select((count, slot) => new CountOf(slot, count)).Where(each => each.Count > 0)
                    .OrderByDescending(each => each.Count).ThenBy(each => each.Value).Take(MostSlots),
            ],
        };
    }

    // The packet that lies where it should; where none does (a serial port hands octets over in lumps), the nearest of equal slots
    // within an interval, else the nearest within half of one.
    private static int Match(
        ReadOnlySpan<byte> slots, Timestamp at, Duration interval, TapRecording far, TapStream end, bool[] used, int from)
    {
        int equal = -1;
        int nearest = -1;
        long equalDistance = long.MaxValue;
        long nearestDistance = interval.Nanoseconds / 2;
        for (int i = from; i < end.Frames.Count && end.Frames[i].Time <= at + interval; i++)
        {
            long distance = Math.Abs((end.Frames[i].Time - at).Nanoseconds);
            if (used[i])
            {
                continue;
            }

            if (distance < nearestDistance)
            {
                (nearest, nearestDistance) = (i, distance);
            }

            if (distance < equalDistance && !end.Frames[i].IsDamaged && slots.SequenceEqual(far.Slots(end.Frames[i].Content)))
            {
                (equal, equalDistance) = (i, distance);
            }
        }

        return equal >= 0 && nearestDistance > interval.Nanoseconds / 4 ? equal : nearest;
    }

    private static bool Count(ReadOnlySpan<byte> sent, ReadOnlySpan<byte> came, long[] bySlot)
    {
        bool differs = false;
        for (int slot = 0; slot < Math.Max(sent.Length, came.Length); slot++)
        {
            if (slot >= sent.Length || slot >= came.Length || sent[slot] != came[slot])
            {
                bySlot[slot + 1]++;
                differs = true;
            }
        }

        return differs;
    }

    private static Duration Interval(TapStream stream)
    {
        IntervalHistogram intervals = new();
        for (int i = 1; i < stream.Frames.Count; i++)
        {
            intervals.Add(stream.Frames[i].Time - stream.Frames[i - 1].Time);
        }

        return intervals.Snapshot()?.Median ?? UsualInterval;
    }
}
