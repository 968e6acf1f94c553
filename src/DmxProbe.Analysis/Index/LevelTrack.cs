using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// The level frames of one sender on one universe, kept by slot: when each frame came, and for each slot its first level and
/// its changes. What a block of a review file is made of.
/// </summary>
internal sealed class LevelTrack
{
    /// <summary>Most slots of a frame.</summary>
    public const int MostSlots = 512;

    /// <summary>The first step that is no longer written into the one octet of a change of the next frame.</summary>
    internal const int FarStep = 64;

    /// <summary>Marks a change that says how many frames later it came, and its level.</summary>
    internal const byte Apart = 0x80;

    /// <summary>The number of frames in the first octet from which on a number follows.</summary>
    internal const int FarApart = 127;

    private readonly SlotTrack[] _slots = new SlotTrack[MostSlots];
    private readonly byte[] _levels = new byte[MostSlots];
    private readonly List<(int Frame, int Value)> _counts = [];
    private readonly List<(int Frame, int Value)> _priorities = [];
    private readonly List<(int Frame, Timestamp Time)> _ends = [];
    private Octets _times;
    private long _step;

    /// <summary>Frames kept.</summary>
    public int Frames { get; private set; }

    /// <summary>Most slots that a frame of them had.</summary>
    public int MostCount { get; private set; }

    /// <summary>Time of the first frame.</summary>
    public Timestamp First { get; private set; }

    /// <summary>Time of the last frame.</summary>
    public Timestamp Last { get; private set; }

    /// <summary>Earliest time of a frame: another than <see cref="First"/> where a clock was set.</summary>
    public Timestamp Earliest { get; private set; }

    /// <summary>Latest time of a frame.</summary>
    public Timestamp Latest { get; private set; }

    /// <summary>How many slots were sent, from which frame on.</summary>
    public IReadOnlyList<(int Frame, int Value)> Counts => _counts;

    /// <summary>At which priority, from which frame on.</summary>
    public IReadOnlyList<(int Frame, int Value)> Priorities => _priorities;

    /// <summary>When the stream was ended, and after how many frames.</summary>
    public IReadOnlyList<(int Frame, Timestamp Time)> Ends => _ends;

    /// <summary>Octets that the changes take; what a block is measured by.</summary>
    public long Octets { get; private set; }

    /// <summary>The times of the frames after the first, as differences of differences.</summary>
    public ReadOnlySpan<byte> Times => _times.Written;

    /// <summary>Whether there is anything to keep.</summary>
    public bool IsEmpty => Frames == 0 && _ends.Count == 0;

    /// <summary>The first level of a slot.</summary>
    /// <param name="slot">From 0.</param>
    public byte FirstLevel(int slot) => _slots[slot].First;

    /// <summary>The changes of a slot.</summary>
    /// <param name="slot">From 0.</param>
    public ReadOnlySpan<byte> Changes(int slot) => _slots[slot].Changes.Written;

    /// <summary>Forgets everything; the room stays.</summary>
    public void Clear()
    {
        for (int slot = 0; slot < _slots.Length; slot++)
        {
            _slots[slot].Changes.Clear();
            _slots[slot].LastFrame = 0;
            _slots[slot].First = 0;
        }

        _levels.AsSpan().Clear();
        _counts.Clear();
        _priorities.Clear();
        _ends.Clear();
        _times.Clear();
        _step = 0;
        Octets = 0;
        (Frames, MostCount) = (0, 0);
    }

    /// <summary>Notes that the stream was ended.</summary>
    public void End(Timestamp time) => _ends.Add((Frames, time));

    /// <summary>Takes in a frame.</summary>
    public void Add(in DmxFrame frame)
    {
        ReadOnlySpan<byte> slots = frame.Slots;
        Stamp(frame.Time);
        if (_counts.Count == 0 || _counts[^1].Value != slots.Length)
        {
            _counts.Add((Frames, slots.Length));
        }

        if (_priorities.Count == 0 || _priorities[^1].Value != frame.Priority)
        {
            _priorities.Add((Frames, frame.Priority));
        }

        // A slot that is first sent later counts from 0: what it was before its first frame is never asked.
        for (; Frames == 0 && MostCount < slots.Length; MostCount++)
        {
            _slots[MostCount].First = _levels[MostCount] = slots[MostCount];
        }

        MostCount = Math.Max(MostCount, slots.Length);
        for (int at = 0; at < slots.Length;)
        {
            int same = slots[at..].CommonPrefixLength(_levels.AsSpan(at, slots.Length - at));
            at += same;
            if (at < slots.Length)
            {
                Change(at, slots[at]);
                at++;
            }
        }

        Frames++;
    }

    private void Stamp(Timestamp time)
    {
        if (Frames == 0)
        {
            (First, Earliest, Latest) = (time, time, time);
        }
        else
        {
            long step = unchecked(time.UnixNanoseconds - Last.UnixNanoseconds);
            _times.AddSigned(unchecked(step - _step));
            _step = step;
            Earliest = time < Earliest ? time : Earliest;
            Latest = time > Latest ? time : Latest;
        }

        Last = time;
    }

    private void Change(int slot, byte level)
    {
        ref SlotTrack track = ref _slots[slot];
        int apart = Frames - track.LastFrame;
        int step = level - _levels[slot];
        int before = track.Changes.Length;
        if (apart == 1 && step is >= -FarStep and < FarStep)
        {
            track.Changes.Add((byte)(step + FarStep));
        }
        else
        {
            track.Changes.Add((byte)(Apart | Math.Min(apart, FarApart)));
            if (apart >= FarApart)
            {
                track.Changes.AddNumber((ulong)(apart - FarApart));
            }

            track.Changes.Add(level);
        }

        Octets += track.Changes.Length - before;
        track.LastFrame = Frames;
        _levels[slot] = level;
    }

    private struct SlotTrack
    {
        public Octets Changes;
        public int LastFrame;
        public byte First;
    }
}
