using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// Who decided a slot at a time, and who moved it last, from a capture with its index: reads 24 s before that time, and
/// eight times as much again and again where the answer rests on something earlier, at most from the start.
/// </summary>
public static class SlotQuestion
{
    private const int Wider = 8;
    private static readonly Duration FirstSpan = TimeIndex.RunUp * 2;

    /// <summary>Asks.</summary>
    /// <param name="index">The index of the capture.</param>
    /// <param name="source">The same capture; left somewhere behind that time.</param>
    /// <param name="universe">The universe.</param>
    /// <param name="slot">1 to 512.</param>
    /// <param name="at">The time; records of that very time count.</param>
    /// <returns>Null where no levels of the universe came up to then.</returns>
    public static SlotFinding? Ask(TimeIndex index, ISeekableSource source, UniverseId universe, int slot, Timestamp at)
    {
        ArgumentNullException.ThrowIfNull(index);
        ArgumentNullException.ThrowIfNull(source);
        for (Duration span = FirstSpan; ; span = Duration.FromNanoseconds(Math.Min(span.Nanoseconds, long.MaxValue / Wider) * Wider))
        {
            if (!index.SeekBefore(source, at - span, out Timestamp? start))
            {
                return null;
            }

            SlotFinding? found = Read(source, universe, slot, at, out bool restsOnEarlier);

            // Senders may be there that were not heard yet in the first 12 s read: a move counts from then on.
            bool moved = found?.Answer.Cases[0].Moved is SlotMove move && start is Timestamp from && move.Time >= from + TimeIndex.RunUp;
            if (start is null || (moved && !restsOnEarlier))
            {
                return found;
            }
        }
    }

    private static SlotFinding? Read(ISeekableSource source, UniverseId universe, int slot, Timestamp at, out bool restsOnEarlier)
    {
        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        ArbitrationUntil arbitration = new(id => id == universe) { Until = () => at };
        while (source.Read(out CaptureRecord record) == ReadStatus.Record && record.Time <= at)
        {
            decoder.Decode(in record, arbitration);
        }

        arbitration.OnTime(at);
        restsOnEarlier = true;
        if (arbitration.Ask(decoder.Streams, universe, slot, slot) is not [SlotAnswer answer])
        {
            return null;
        }

        restsOnEarlier = answer.RestsOnEarlier;
        Dictionary<int, SenderSummary> senders = [];
        IEnumerable<int> named = answer.Cases.SelectMany(each => each.Senders)
            .Concat(answer.Contenders.Select(each => each.Sender))
            .Concat(answer.Cases.Select(each => each.Moved?.MovedBy ?? -1));
        foreach (int sender in named.Where(sender => sender >= 0))
        {
            senders[sender] = decoder.Senders.Describe(sender);
        }

        return new SlotFinding(answer, senders);
    }
}
