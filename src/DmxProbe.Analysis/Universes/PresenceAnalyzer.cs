using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Universes;

/// <summary>
/// Who sent what kind of frame on which universe and when: START codes, first and last, priorities over time,
/// terminations, preview, synchronization addresses.
/// </summary>
public sealed class PresenceAnalyzer : IAnalyzer
{
    /// <summary>Most priority spans kept per stream; further changes are counted.</summary>
    public const int MostPrioritySpans = 64;

    private const int MostSyncAddresses = 8;
    private readonly PerIndex<Track> _tracks = new();

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        ref Track track = ref _tracks[frame.Stream];
        if (track.Frames == 0)
        {
            track.First = frame.Time;
            track.FirstRecord = frame.Record;
            track.PriorityFrom = frame.Time;
            track.Priority = frame.Priority;
        }

        track.Frames++;
        track.StartCodes.Add(frame.StartCode);
        if (frame.Priority != track.Priority)
        {
            ClosePriority(ref track);
            track.Priority = frame.Priority;
            track.PriorityFrom = frame.Time;
        }

        track.Last = frame.Time;
        if (frame.Flags > FrameFlags.SequenceCounted)
        {
            Count(ref track, frame.Flags, 1);
        }

        if (frame.SyncAddress != 0)
        {
            NoteSync(ref track, frame.SyncAddress);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>What is known of a stream; null when it sent nothing.</summary>
    public PresenceSnapshot? Snapshot(int stream)
    {
        if (stream >= _tracks.Count || _tracks[stream].Frames == 0)
        {
            return null;
        }

        Track track = _tracks[stream];
        List<PrioritySpan> priorities = [.. track.Priorities ?? []];
        long notListed = track.PrioritiesNotListed;
        if (notListed == 0)
        {
            priorities.Add(new PrioritySpan(track.Priority, track.PriorityFrom, track.Last));
        }

        return new PresenceSnapshot
        {
            First = track.First,
            Last = track.Last,
            FirstRecord = track.FirstRecord,
            Frames = track.Frames,
            StartCodes = track.StartCodes.Snapshot(),
            Priorities = priorities,
            PrioritiesNotListed = notListed,
            Terminations = track.Terminations,
            PreviewFrames = track.PreviewFrames,
            DraftFrames = track.DraftFrames,
            CutFrames = track.CutFrames,
            UnicastFrames = track.UnicastFrames,
            BroadcastFrames = track.BroadcastFrames,
            OtherPortFrames = track.OtherPortFrames,
            SyncAddresses = [.. track.SyncAddresses ?? []],
        };
    }

    /// <summary>Takes frames of a stream that had START code 0, the priority and the flags of the one before, and no synchronization address.</summary>
    internal void Ran(int stream, long frames, FrameFlags flags, Timestamp last)
    {
        ref Track track = ref _tracks[stream];
        track.Frames += frames;
        track.StartCodes.Add(0, frames);
        track.Last = last;
        Count(ref track, flags, frames);
    }

    private static void Count(ref Track track, FrameFlags flags, long times)
    {
        track.Terminations += (flags & FrameFlags.Terminated) != 0 ? times : 0;
        track.PreviewFrames += (flags & FrameFlags.Preview) != 0 ? times : 0;
        track.DraftFrames += (flags & FrameFlags.Draft) != 0 ? times : 0;
        track.CutFrames += (flags & FrameFlags.SlotsCut) != 0 ? times : 0;
        track.UnicastFrames += (flags & FrameFlags.Unicast) != 0 ? times : 0;
        track.BroadcastFrames += (flags & FrameFlags.Broadcast) != 0 ? times : 0;
        track.OtherPortFrames += (flags & FrameFlags.OtherPort) != 0 ? times : 0;
    }

    private static void ClosePriority(ref Track track)
    {
        track.Priorities ??= [];
        if (track.Priorities.Count < MostPrioritySpans)
        {
            track.Priorities.Add(new PrioritySpan(track.Priority, track.PriorityFrom, track.Last));
        }
        else
        {
            track.PrioritiesNotListed++;
        }
    }

    private static void NoteSync(ref Track track, int address)
    {
        track.SyncAddresses ??= [];
        if (track.SyncAddresses.Count < MostSyncAddresses && !track.SyncAddresses.Contains(address))
        {
            track.SyncAddresses.Add(address);
        }
    }

    private struct Track
    {
        public Timestamp First;
        public Timestamp Last;
        public Timestamp PriorityFrom;
        public long FirstRecord;
        public long Frames;
        public long Terminations;
        public long PreviewFrames;
        public long DraftFrames;
        public long CutFrames;
        public long UnicastFrames;
        public long BroadcastFrames;
        public long OtherPortFrames;
        public long PrioritiesNotListed;
        public List<PrioritySpan>? Priorities;
        public List<int>? SyncAddresses;
        public ValueTally StartCodes;
        public byte Priority;
    }
}
