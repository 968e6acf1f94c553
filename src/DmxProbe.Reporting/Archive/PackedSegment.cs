using System.Buffers;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Reporting.Archive;

/// <summary>Up to 10 s of one sender on one universe, all frames with the same number of slots.</summary>
internal sealed class PackedSegment
{
    /// <summary>Most frames of a segment.</summary>
    public const int MostFrames = 512;

    /// <summary>Begins one.</summary>
    public PackedSegment(UniverseId universe, SenderSummary sender, long number, int slots)
    {
        Universe = universe;
        Sender = sender;
        Number = number;
        SlotCount = slots;
    }

    /// <summary>The universe.</summary>
    public UniverseId Universe { get; }

    /// <summary>Who sent it.</summary>
    public SenderSummary Sender { get; }

    /// <summary>Number of the segment in the recording, from 1.</summary>
    public long Number { get; }

    /// <summary>Slots of each frame.</summary>
    public int SlotCount { get; }

    /// <summary>Frames.</summary>
    public int Frames => Times.Count;

    /// <summary>When each frame came, ns since 1970.</summary>
    public List<long> Times { get; } = [];

    /// <summary>The priority of each frame.</summary>
    public List<byte> Priorities { get; } = [];

    /// <summary>The frames, one after the other; longer than they are.</summary>
    public byte[] Slots { get; private set; } = [];

    /// <summary>Takes in a frame.</summary>
    public void Add(in DmxFrame frame)
    {
        int at = Frames * SlotCount;
        if (Slots.Length < at + SlotCount)
        {
            byte[] larger = ArrayPool<byte>.Shared.Rent(Math.Min(MostFrames, Math.Max(16, Frames * 2)) * SlotCount);
            Slots.AsSpan(0, at).CopyTo(larger);
            Release();
            Slots = larger;
        }

        frame.Slots.CopyTo(Slots.AsSpan(at));
        Times.Add(frame.Time.UnixNanoseconds);
        Priorities.Add(frame.Priority);
    }

    /// <summary>Gives the room of the frames back; nothing is read of them afterwards.</summary>
    public void Release()
    {
        if (Slots.Length > 0)
        {
            ArrayPool<byte>.Shared.Return(Slots);
            Slots = [];
        }
    }
}
