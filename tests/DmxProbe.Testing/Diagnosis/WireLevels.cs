using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>The levels in force at some moments, by universe, as they came over the wire: what a unit there follows.</summary>
internal sealed class WireLevels : IAnalyzer
{
    private const int SlotCount = 512;
    private readonly IReadOnlyList<Timestamp> _moments;
    private readonly Dictionary<UniverseId, Stream> _streams = [];

    private WireLevels(IReadOnlyList<Timestamp> moments) => _moments = moments;

    /// <summary>The universes that levels came on.</summary>
    public IEnumerable<UniverseId> Universes => _streams.Keys;

    /// <summary>Reads them.</summary>
    /// <param name="capture">What was captured.</param>
    /// <param name="moments">The moments, rising.</param>
    public static WireLevels Of(SimulatedCapture capture, IReadOnlyList<Timestamp> moments)
    {
        WireLevels levels = new(moments);
        using SimulatedSource source = capture.ToSource();
        new Session(source, new RecordDecoder(), levels).Run(CancellationToken.None);
        foreach (Stream stream in levels._streams.Values)
        {
            stream.FillTo(moments.Count);
        }

        return levels;
    }

    /// <summary>512 levels for each moment; null where no levels came on that universe.</summary>
    public byte[][]? Find(UniverseId universe) => _streams.TryGetValue(universe, out Stream? stream) ? stream.Frames : null;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0)
        {
            return;
        }

        if (!_streams.TryGetValue(frame.Universe, out Stream? stream))
        {
            _streams[frame.Universe] = stream = new Stream(_moments.Count);
        }

        int next = stream.Filled;
        while (next < _moments.Count && _moments[next] < frame.Time)
        {
            next++;
        }

        stream.FillTo(next);
        frame.Slots[..Math.Min(frame.Slots.Length, SlotCount)].CopyTo(stream.Now);
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // Only levels count.
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        // Levels hold until they change.
    }

    private sealed class Stream(int moments)
    {
        public byte[][] Frames { get; } = new byte[moments][];

        public byte[] Now { get; } = new byte[SlotCount];

        public int Filled { get; private set; }

        // The moments before a frame have the levels before it.
        public void FillTo(int moment)
        {
            if (moment <= Filled)
            {
                return;
            }

            byte[] held = [.. Now];
            while (Filled < moment)
            {
                Frames[Filled++] = held;
            }
        }
    }
}
