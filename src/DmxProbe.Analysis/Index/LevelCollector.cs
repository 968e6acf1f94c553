using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// Collects level frames by stream and slot: START code 0, whole and undamaged, as <see cref="Universes.LevelAnalyzer"/> takes
/// them. Bounded by whoever reads <see cref="Octets"/> and clears it.
/// </summary>
internal sealed class LevelCollector : IFrameSink
{
    private readonly List<LevelTrack?> _tracks = [];

    /// <summary>False while frames only bring the decoder up to date.</summary>
    public bool IsOn { get; set; }

    /// <summary>About how many octets are held.</summary>
    public long Octets { get; private set; }

    /// <summary>The tracks by stream; null where a stream sent no levels.</summary>
    public IReadOnlyList<LevelTrack?> Tracks => _tracks;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (!IsOn || frame.StartCode != 0 || (frame.Flags & (FrameFlags.SlotsCut | FrameFlags.Damaged)) != 0)
        {
            return;
        }

        while (_tracks.Count <= frame.Stream)
        {
            _tracks.Add(null);
        }

        LevelTrack track = _tracks[frame.Stream] ??= new LevelTrack();
        if ((frame.Flags & FrameFlags.Terminated) != 0)
        {
            track.End(frame.Time);
            return;
        }

        long before = track.Octets;
        track.Add(in frame);
        Octets += track.Octets - before;
        const int PerFrame = 4;
        Octets += PerFrame;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <summary>Forgets what was collected.</summary>
    public void Clear()
    {
        foreach (LevelTrack? track in _tracks)
        {
            track?.Clear();
        }

        Octets = 0;
    }
}
