using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// What is known of one universe: while it has one plain sender, no more than what the next frame of that one is told by
/// (the fast way); else its <see cref="Arbitration.Contest"/>. Fields, because it is used in place, once a frame.
/// </summary>
internal struct UniverseEntry
{
    /// <summary>A packet that the fast way must not take: it may change who decides, or is no level.</summary>
    public const FrameFlags Special = FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.Damaged | FrameFlags.SlotsCut;

    /// <summary>Stream of the only sender + 1 while the fast way holds; else 0.</summary>
    public int OnlyStream;
    public int SlotCount;
    public byte Priority;
    public byte Sequence;
    public bool HasPriority;
    public bool Follows;
    public Timestamp Last;
    public Duration Loss;
    public int Sender;
    public uint Host;
    public UniverseId Universe;
    public Timestamp Since;
    public UniverseHistory? History;
    public Contest? Contest;

    /// <summary>Takes the first levels of the universe.</summary>
    /// <param name="frame">They, from a source that is not viewed in a preview only.</param>
    /// <param name="follows">Whether the universe is followed slot by slot.</param>
    /// <param name="room">Room for changes beyond the usual; null: none.</param>
    /// <returns>True where that is all: a plain sender, alone.</returns>
    public bool Start(in DmxFrame frame, bool follows, ChangeRoom? room)
    {
        History = new UniverseHistory(room);
        Universe = frame.Universe;
        HasPriority = frame.Universe.Protocol == UniverseProtocol.Sacn;
        Loss = ProtocolTimes.LossOf(frame.Universe.Protocol);
        Since = Timestamp.MinValue;
        Follows = follows;
        History.Settle(frame.Time, [frame.Sender], [], HasPriority ? frame.Priority : -1, isMergeCancelled: false);
        bool isPlain = !Follows && frame.SyncAddress == 0 && (frame.Flags & Special) == 0;
        OnlyStream = frame.Stream + 1;
        Sender = frame.Sender;
        Host = frame.Host;
        Priority = frame.Priority;
        SlotCount = (frame.Flags & FrameFlags.SlotsCut) != 0 ? Claim.Slots : frame.Slots.Length;
        Last = frame.Time;

        // Where a contest begins at once, this very packet is still to be taken.
        Sequence = isPlain ? frame.Sequence : unchecked((byte)(frame.Sequence - 1));
        return isPlain;
    }

    /// <summary>The contest is over: its only sender goes the fast way again.</summary>
    public void Calm(Claim quiet)
    {
        OnlyStream = quiet.Stream + 1;
        Sender = quiet.Sender;
        Host = quiet.Host;
        Priority = quiet.Priority;
        SlotCount = quiet.SlotCount;
        Sequence = quiet.Sequence;
        Last = quiet.Last;
    }
}
