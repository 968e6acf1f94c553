using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Samples one after another: raw octets, or those of a session. One tick is one sample.</summary>
internal sealed class SampleSource : LineSource
{
    private const int ChunkSamples = EdgeSlice.Room;

    private readonly LineDamage _damage;
    private readonly SampleLayout _layout;
    private readonly SampleEdges _edges;
    private readonly byte[] _first; // the sample before the next one, where it is no longer in the window
    private long _tick; // of the next sample

    /// <summary>Reads samples.</summary>
    /// <param name="window">Standing at the first sample.</param>
    /// <param name="layout">What the samples are.</param>
    /// <param name="unpacked">Whether they come out of a gzip file.</param>
    /// <param name="name">Name to print.</param>
    public SampleSource(ByteWindow window, SampleLayout layout, bool unpacked, string name)
        : base(window, name, layout.Channels.Count, layout.Rate)
    {
        _damage = new LineDamage(unpacked, layout.Rate);
        _layout = layout;
        int[] channelOfBit = new int[8 * layout.Unit];
        Array.Fill(channelOfBit, -1);
        for (int i = 0; i < layout.Channels.Count; i++)
        {
            channelOfBit[layout.Channels[i].Bit] = i;
        }

        _edges = new SampleEdges(layout.Unit, channelOfBit, Slice);
        _first = new byte[layout.Unit];
        foreach (string sentence in layout.Assumptions)
        {
            Assume(sentence);
        }
    }

    protected override bool FillSlice()
    {
        // The first sample gives the levels; it lasts a tick like every other.
        if (_tick == 0 && Window.Has(_layout.Unit))
        {
            Window.Peek(_layout.Unit).CopyTo(_first);
            Window.Skip(_layout.Unit);
            for (int i = 0; i < _layout.Channels.Count; i++)
            {
                int bit = _layout.Channels[i].Bit;
                Slice.Set(i, (LineLevel)((_first[bit / 8] >> (bit % 8)) & 1), 0);
            }

            _tick = 1;
        }

        while (Window.Has(_layout.Unit))
        {
            // An edge lies at the start of its sample; the slice ends with that sample's start, so that no edge is at its start.
            if (_tick - 1 - Slice.Start >= SliceTicks || Slice.IsFull())
            {
                Slice.Close(_tick - 1, last: false);
                return true;
            }

            if (_tick > LastTick)
            {
                Problem = _damage.Wrong(
                    "the recording is too long", Window.Position, $"at most {LongestSeconds / 86_400} days", "more", _tick);
                break;
            }

            long leftInSlice = SliceTicks - (_tick - 1 - Slice.Start);
            Look((int)Math.Min(Math.Min(ChunkSamples, leftInSlice), Window.Available / _layout.Unit));
        }

        Problem ??= WhatIsLeft();
        Slice.Close(_tick, last: true);
        return false;
    }

    protected override IEnumerable<CaptureInterface> Describe()
    {
        string description = _layout.Description + ", " + Rates.Text(_layout.Rate);
        return _layout.Channels.Select((channel, i) => Interface(i, channel.Name, description, DurationOf(1)));
    }

    private void Look(int samples)
    {
        int unit = _layout.Unit;
        ReadOnlySpan<byte> octets = Window.Peek(samples * unit);

        // The sample before lies in the window before these, or is gone with the block it came in.
        Span<byte> joint = stackalloc byte[2 * unit];
        _first.CopyTo(joint);
        octets[..unit].CopyTo(joint[unit..]);
        _edges.Find(joint, _tick);
        _edges.Find(octets, _tick + 1);
        octets[^unit..].CopyTo(_first);
        Window.Skip(octets.Length);
        _tick += samples;
    }

    private InputProblem? WhatIsLeft()
    {
        if (_layout.Members?.Damage(_damage, _tick) is InputProblem damage)
        {
            return damage;
        }

        if (Window.Failure is not null)
        {
            return _damage.Unreadable(Window, _tick);
        }

        return Window.Available == 0
            ? null
            : _damage.Wrong(
                "the recording ends inside a sample",
                Window.Position,
                CaptureDamage.Octets(_layout.Unit),
                CaptureDamage.Number(Window.Available),
                _tick);
    }
}
