using System.Text.Json;

using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Reporting.Json;

/// <summary>One sender on one universe as JSON.</summary>
internal static class StreamJson
{
    /// <summary>Writes the fields of an entry of <c>universes[].senders[]</c>.</summary>
    public static void Write(Utf8JsonWriter json, StreamSummary stream)
    {
        json.Text("name", stream.Sender.Name);
        json.Text("address", stream.Sender.Address);
        json.Texts("addresses", stream.Sender.Addresses);
        json.TextOrNull("cid", stream.Sender.Cid);
        if (stream.Sender.Physical < 0)
        {
            json.WriteNull("physical");
        }
        else
        {
            json.WriteNumber("physical", stream.Sender.Physical);
        }

        json.Objects("priorities", stream.Priorities, Priority);
        json.WriteNumber("prioritiesNotListed", stream.PrioritiesNotListed);
        json.Span(stream.First, stream.Last);
        json.WriteNumber("firstRecord", stream.FirstRecord);
        json.WriteNumber("frames", stream.Frames);
        json.WriteNumber("levelFrames", stream.LevelFrames);
        json.WriteNumber("changedFrames", stream.ChangedFrames);
        json.Figure("rateHz", stream.RateHz);
        json.Figure("changedHz", stream.ChangedHz);
        json.Figure("keepAliveMs", stream.KeepAlive?.TotalMilliseconds);
        json.Intervals("keepAliveIntervalsMs", stream.KeepAliveIntervals);
        json.Intervals("intervalsMs", stream.Intervals);
        json.Time("longestSilenceFrom", stream.LongestSilenceFrom);
        json.WriteNumber("counted", stream.Sequence.Counted);
        json.WriteNumber("lost", stream.Sequence.Lost);
        json.WriteNumber("outOfOrder", stream.Sequence.OutOfOrder);
        json.WriteNumber("repeated", stream.Sequence.Repeated);
        json.WriteNumber("restarts", stream.Sequence.Restarts);
        json.WriteBoolean("terminated", stream.Terminated);
        json.WriteNumber("terminations", stream.Terminations);
        json.WriteBoolean("silent", stream.Silent);
        json.WriteNumber("returns", stream.Returns);
        json.Counts("slotCounts", stream.SlotCounts);
        json.Counts("startCodes", stream.StartCodes);
        json.WriteNumber("previewFrames", stream.PreviewFrames);
        json.WriteNumber("draftFrames", stream.DraftFrames);
        json.WriteNumber("cutFrames", stream.CutFrames);
        json.Numbers("syncAddresses", stream.SyncAddresses);
        json.WriteNumber("secondInstances", stream.SecondInstances);
        json.WriteNumber("unicastFrames", stream.UnicastFrames);
        json.WriteNumber("broadcastFrames", stream.BroadcastFrames);
        json.WriteNumber("otherPortFrames", stream.OtherPortFrames);
        json.WriteNumber("capturedTwice", stream.Repeats?.Captured ?? 0);
        json.WriteNumber("sentTwice", stream.Repeats?.Of(RepeatKind.SentTwice) ?? 0);
        json.WriteNumber("bursts", stream.Bursts.Count);
    }

    private static void Priority(Utf8JsonWriter json, PrioritySpan span)
    {
        json.WriteNumber("value", span.Value);
        json.Time("from", span.From);
        json.Time("to", span.To);
    }
}
