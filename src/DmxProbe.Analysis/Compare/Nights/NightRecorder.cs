using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>
/// Keeps a night as cues and looks: a cue is a time in which slots moved, with 0.7 s of rest before and behind; a look is what
/// stood after it. A slot that moves on and on (10 s without 1 s of rest) runs an effect, and makes no cue. Bounded: 256 MiB of
/// looks and 8,192 cues; from then on nothing more is kept.
/// </summary>
public sealed class NightRecorder : IAnalyzer
{
    /// <summary>Rest that ends a cue.</summary>
    public static readonly Duration Rest = Duration.FromMilliseconds(700);

    private const int MostSlots = 512;
    private const int Words = MostSlots / 64;
    private const long MostOctets = 256L * 1024 * 1024;
    private const int MostChanges = 8192;
    private static readonly Duration Running = Duration.FromSeconds(10);
    private static readonly Duration Pause = Duration.FromSeconds(1);

    private readonly List<Track?> _tracks = [];
    private readonly List<NightChange> _changes = [];
    private long _octets;
    private bool _isOpen;
    private bool _isFull;
    private Timestamp _at;
    private Timestamp _moved;
    private Timestamp _last = Timestamp.MinValue;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        const FrameFlags NoLevels = FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged;
        if (frame.StartCode != 0 || (frame.Flags & NoLevels) != 0 || _isFull)
        {
            return;
        }

        Advance(frame.Time);
        while (_tracks.Count <= frame.Stream)
        {
            _tracks.Add(null);
        }

        Track track = _tracks[frame.Stream] ??= new Track(frame.Universe);
        ReadOnlySpan<byte> slots = frame.Slots;
        if (track.Count < slots.Length)
        {
            // First heard: it stands so since before, it did not move.
            slots[track.Count..].CopyTo(track.Levels.AsSpan(track.Count));
            track.Count = slots.Length;
            track.Looks.Add(new NightLook(_changes.Count - 1, track.Levels[..track.Count], new ulong[Words], null));
        }

        for (int at = 0; at < slots.Length; at++)
        {
            at += slots[at..].CommonPrefixLength(track.Levels.AsSpan(at, slots.Length - at));
            if (at < slots.Length)
            {
                track.Levels[at] = slots[at];
                Move(track, at, frame.Time);
            }
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now) => Advance(now);

    /// <summary>What was kept.</summary>
    /// <param name="decoder">The decoder that fed this.</param>
    public Night Snapshot(RecordDecoder decoder)
    {
        if (_isOpen)
        {
            Close();
        }

        List<NightStream> streams = [];
        for (int stream = 0; stream < _tracks.Count; stream++)
        {
            if (_tracks[stream] is { } track)
            {
                streams.Add(new NightStream(track.Universe, decoder.Senders.Describe(decoder.Streams.SenderOf(stream)), track.Count) { Looks = [.. track.Looks] });
            }
        }

        return new Night([.. streams.OrderBy(each => each.Universe)], [.. _changes], _last, !_isFull);
    }

    private void Advance(Timestamp now)
    {
        if (_isFull)
        {
            return;
        }

        if (_isOpen && now - _moved > Rest)
        {
            Close();
        }

        _last = now > _last ? now : _last;
    }

    private bool Open(Timestamp time)
    {
        if (!_isOpen)
        {
            _at = time;
        }

        _moved = time;
        return true;
    }

    private void Move(Track track, int slot, Timestamp time)
    {
        if (time - track.LastMove[slot] > Pause)
        {
            track.RunFrom[slot] = time;
        }

        track.LastMove[slot] = time;
        if (time - track.RunFrom[slot] > Running)
        {
            return;
        }

        _isOpen = Open(time);
        track.IsTouched = true;
        NightLook.Set(track.Moved, slot);
    }

    private void Close()
    {
        _isOpen = false;
        uint[] sketch = new uint[NightSketch.Buckets];
        uint[] look = new uint[NightSketch.Buckets];
        int moved = 0;
        foreach (Track? track in _tracks)
        {
            if (track is { IsTouched: true })
            {
                moved += Close(track, sketch);
            }

            track?.AddTo(look);
        }

        _changes.Add(new NightChange(_at, _moved, moved, sketch, look));
        _isFull = _changes.Count >= MostChanges || _octets >= MostOctets;
    }

    private int Close(Track track, uint[] sketch)
    {
        ulong[]? running = null;
        int moved = 0;
        for (int slot = 0; slot < track.Count; slot++)
        {
            // Moving now, or a moment ago, and for long: no level to compare.
            if (_moved - track.LastMove[slot] <= Pause && track.LastMove[slot] - track.RunFrom[slot] > Running)
            {
                NightLook.Set(running ??= new ulong[Words], slot);
                NightLook.Set(track.Ran, slot);
            }
            else if (NightLook.Has(track.Moved, slot))
            {
                moved++;
                NightSketch.Add(sketch, track.Universe, slot, track.Levels[slot]);
            }
        }

        track.Looks.Add(new NightLook(_changes.Count, track.Levels[..track.Count], track.Moved, running));
        _octets += track.Count + (Words * sizeof(ulong) * (running is null ? 1 : 2)) + 96;
        track.Moved = new ulong[Words];
        track.IsTouched = false;
        track.AreBlocksOld = true;
        return moved;
    }

    private sealed class Track(UniverseId universe)
    {
        public UniverseId Universe { get; } = universe;

        public byte[] Levels { get; } = new byte[MostSlots];

        public Timestamp[] LastMove { get; } = NewTimes();

        public Timestamp[] RunFrom { get; } = NewTimes();

        public List<NightLook> Looks { get; } = [];

        public ulong[] Moved { get; set; } = new ulong[Words];

        public int Count { get; set; }

        public bool IsTouched { get; set; }

        public bool AreBlocksOld { get; set; } = true;

        public ulong[] Ran { get; } = new ulong[Words];

        private ulong[] Blocks { get; } = new ulong[MostSlots / NightSketch.BlockLength];

        public void AddTo(uint[] look)
        {
            for (int block = 0; block < Blocks.Length; block++)
            {
                int at = block * NightSketch.BlockLength;
                if (AreBlocksOld)
                {
                    Blocks[block] = NightSketch.Block(Universe, block, Levels.AsSpan(at, NightSketch.BlockLength), (uint)(Ran[at >> 6] >> (at & 63) & 0xFFFF));
                }

                if (Blocks[block] != 0)
                {
                    NightSketch.Add(look, Blocks[block]);
                }
            }

            AreBlocksOld = false;
        }

        private static Timestamp[] NewTimes()
        {
            Timestamp[] times = new Timestamp[MostSlots];
            Array.Fill(times, Timestamp.MinValue);
            return times;
        }
    }
}
