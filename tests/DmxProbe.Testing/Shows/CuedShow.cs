using System.Buffers.Binary;
using System.Globalization;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Shows;

/// <summary>
/// Plays a night of a show as records: sACN universes of 512 slots from one controller per 50 universes, made while they are
/// read, so that hours on hundreds of universes need no memory. The same plan gives the same records.
/// </summary>
public sealed class CuedShow : ICaptureSource
{
    private const int SlotsAt = 14 + 20 + 8 + 126;
    private const int SequenceAt = 14 + 20 + 8 + 111;
    private const int PerController = 50;
    private const long KeepAlive = 900_000_000;
    private const int Repeats = 3;
    private readonly ShowPlan _plan;
    private readonly CueList _cues;
    private readonly SeededRandom _random;
    private readonly PriorityQueue<Player, long> _due = new();
    private long _number;

    /// <summary>Begins a night.</summary>
    public CuedShow(ShowPlan plan)
    {
        _plan = plan;
        _cues = new CueList(plan);
        _random = SeededRandom.For(plan.Night, 3);
        for (int universe = 1; universe <= plan.Universes; universe++)
        {
            ShowEdit? edit = plan.Edits.FirstOrDefault(each => each.Universe == universe);
            Add(new Player(universe, (universe - 1) / PerController, edit, plan));
            if (edit?.SecondSender is byte[] slots)
            {
                Player second = new(universe, 90, new ShowEdit(universe) { Priority = 50, RateHz = 1, Levels = (_, _, target) => slots.CopyTo(target) }, plan) { IsSteady = true };
                Add(second);
            }
        }
    }

    /// <summary>The cues as they were pressed.</summary>
    public CueList Cues => _cues;

    /// <inheritdoc/>
    public string Name => "cued show";

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces { get; } =
        [new CaptureInterface(0, "mirror", "simulated mirror port", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Adapter)];

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <summary>Slots that changed since the frame before, over all frames.</summary>
    public long Changes { get; private set; }

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        while (_due.TryDequeue(out Player? player, out long time))
        {
            if (time >= (long)(_plan.Seconds * 1e9))
            {
                continue;
            }

            bool sends = player.Advance(time, _cues, _plan, out int changes);
            _due.Enqueue(player, player.Next(time));
            if (!sends || (player.Edit?.Loss > 0 && _random.Chance(player.Edit.Loss)))
            {
                continue;
            }

            Changes += changes;
            record = new CaptureRecord
            {
                Number = ++_number,
                Time = _plan.Start + Duration.FromNanoseconds(time + _random.Next(0, 60_000)),
                InterfaceId = 0,
                LinkType = LinkType.Ethernet,
                OriginalLength = player.Packet.Length,
                Data = player.Packet,
            };
            return ReadStatus.Record;
        }

        record = default;
        return ReadStatus.End;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    private void Add(Player player)
    {
        if (player.Edit is not { IsSilent: true })
        {
            _due.Enqueue(player, player.Offset);
        }
    }

    // One sender on one universe.
    private sealed class Player
    {
        private readonly byte[] _from = new byte[512];
        private readonly byte[] _to = new byte[512];
        private readonly byte[] _levels = new byte[512];
        private readonly int[] _effects;
        private readonly int _universe;
        private readonly long _tick;
        private readonly int _count;
        private int _cue = -1;
        private double _at;
        private double _fade;
        private long _lastSent = -KeepAlive;
        private int _repeats;
        private byte _sequence;

        public Player(int universe, int controller, ShowEdit? edit, ShowPlan plan)
        {
            _universe = universe;
            Edit = edit;
            _tick = (long)(1e9 / (edit is { RateHz: > 0 } ? edit.RateHz : plan.RateHz));
            _count = edit is { SlotCount: > 0 } ? edit.SlotCount : 512;
            Offset = universe * 7_919_000L % 22_000_000;
            string number = (controller + 1).ToString(CultureInfo.InvariantCulture);
            Host host = Host.At("controller " + number, "10.30.0." + number);
            byte[] cid = SacnPackets.Cid(string.Create(CultureInfo.InvariantCulture, $"0c7a5f10-5b1e-4c63-8a57-0000000000{controller + 1:00}"));
            byte[] payload = SacnPackets.Data(cid, host.Name, universe, 0, new byte[_count], edit is { Priority: > 0 } ? edit.Priority : 100);
            Packet = UdpFrames.Build(UdpPath.ToSacnGroup(host, universe), payload);
            BinaryPrimitives.WriteUInt16BigEndian(Packet.AsSpan(14 + 20 + 6), 0); // no UDP checksum (RFC 768): levels move too fast to sum
            _effects = [.. Enumerable.Range(0, 512).Where(slot => (slot * 37 % 512) < plan.Effects * 512)];
        }

        public ShowEdit? Edit { get; }

        public long Offset { get; }

        public byte[] Packet { get; }

        public bool IsSteady { get; init; }

        public long Next(long time) => time + _tick;

        // The levels at a tick; true where a packet goes out.
        public bool Advance(long time, CueList cues, ShowPlan plan, out int changes)
        {
            double now = time / 1e9;
            while (_cue + 1 < cues.Cues.Count && cues.Cues[_cue + 1].At <= now)
            {
                _cue++;
                Fill(cues.Cues[_cue].At, _from);
                if (!plan.Skipped.Contains(_cue) && !IsSteady)
                {
                    cues.Apply(_cue, _universe, _to);
                }

                (_at, _fade) = cues.Cues[_cue];
            }

            Fill(now, _levels);
            for (int i = 0; i < _effects.Length; i++)
            {
                _levels[_effects[i]] = Effect(i, now);
            }

            Edit?.Levels?.Invoke(_cue, now, _levels);
            Span<byte> sent = Packet.AsSpan(SlotsAt, _count);
            ReadOnlySpan<byte> levels = _levels.AsSpan(0, _count);
            changes = 0;
            for (int slot = 0; slot < sent.Length; slot++)
            {
                changes += sent[slot] == levels[slot] ? 0 : 1;
            }

            _repeats = changes > 0 ? Repeats : _repeats;
            if (changes == 0 && !plan.ConstantRate && !IsSteady && time - _lastSent < KeepAlive && _repeats-- <= 0)
            {
                _repeats = 0;
                return false;
            }

            levels.CopyTo(sent);
            Packet[SequenceAt] = unchecked(++_sequence);
            _lastSent = time;
            return true;
        }

        private void Fill(double now, Span<byte> levels)
        {
            double share = _fade <= 0 ? 1 : Math.Clamp((now - _at) / _fade, 0, 1);
            if (share >= 1)
            {
                _to.CopyTo(levels);
                return;
            }

            // 16 bit parts of 65,536: the same on every machine.
            int part = (int)(share * 65_536);
            for (int slot = 0; slot < levels.Length; slot++)
            {
                levels[slot] = (byte)(_from[slot] + (((_to[slot] - _from[slot]) * part) >> 16));
            }
        }

        // What effect engines play: sines and ramps of different speed, and some flicker.
        private byte Effect(int number, double now)
        {
            double period = 1.2 + (number % 11 * 0.23);
            double phase = (now / period) + (number * 0.071) + (_universe * 0.13);
            phase -= Math.Floor(phase);
            return (number % 16) switch
            {
                15 => (byte)SeededRandom.For((ulong)_universe, (ulong)(now * 44) + ((ulong)number << 32)).Next(0, 256),
                < 10 => (byte)(127.5 + (127 * Math.Sin(phase * Math.Tau))),
                < 13 => (byte)(phase * 255),
                _ => (byte)(phase < 0.5 ? phase * 510 : (1 - phase) * 510),
            };
        }
    }
}
