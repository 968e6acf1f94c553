using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// The interfaces of a pcapng file: every section describes its own anew, their losses are counted, and marks keep them.
/// </summary>
internal sealed class PcapngInterfaces
{
    // Every section describes its interfaces again; a joined file of many sections still stays below this.
    private const int MostInterfaces = 65_536;

    // A mark copies the interfaces of its section; real files have a handful.
    private const int MostInMark = 1_024;

    private readonly List<CaptureInterface> _all = [];
    private readonly List<PcapngInterface> _section = [];
    private readonly List<CaptureInterface> _channels = [];
    private ImmutableList<CaptureInterface> _kept = [];
    private PcapngState? _state;
    private PcapngInterface? _justLost;
    private int _nextId;

    /// <summary>All that were met in the file, also those after a mark that was gone back to.</summary>
    public IReadOnlyList<CaptureInterface> All => _all;

    /// <summary>How many the section has so far.</summary>
    public int SectionCount => _section.Count;

    /// <summary>A new section knows none.</summary>
    public void BeginSection()
    {
        _section.Clear();
        _channels.Clear();
        _justLost = null;
        _state = null;
    }

    /// <summary>How many channels the section has so far; they are numbered apart from interfaces.</summary>
    public int ChannelCount => _channels.Count;

    /// <summary>Finds a channel by its number in the section.</summary>
    public bool TryGetChannel(uint number, [NotNullWhen(true)] out CaptureInterface? found)
    {
        found = number < (uint)_channels.Count ? _channels[(int)number] : null;
        return found is not null;
    }

    /// <summary>A record of a channel was read; its losses need no bookkeeping.</summary>
    public void ChannelRecordRead() => _justLost = null;

    /// <summary>Finds an interface by its number in the section.</summary>
    public bool TryGet(uint number, [NotNullWhen(true)] out PcapngInterface? found)
    {
        found = number < (uint)_section.Count ? _section[(int)number] : null;
        return found is not null;
    }

    /// <summary>Takes in the body of an Interface Description Block.</summary>
    /// <returns>False where it is damaged.</returns>
    public bool TryDescribe(ReadOnlySpan<byte> body, bool bigEndian, out InterfaceFault fault)
    {
        if (!HasRoom(out fault) || !PcapngInterfaceParser.TryParse(body, bigEndian, _nextId, out PcapngInterface? parsed, out fault))
        {
            return false;
        }

        Add(parsed.Description);
        _section.Add(parsed);
        return true;
    }

    /// <summary>Takes in the body of a block that describes a channel, its signature seen.</summary>
    /// <returns>False where it is damaged.</returns>
    public bool TryDescribeChannel(ReadOnlySpan<byte> body, out InterfaceFault fault)
    {
        if (!HasRoom(out fault)
            || !PcapngChannelBlock.TryParse(body, _nextId, _channels.Count, out CaptureInterface? channel, out fault))
        {
            return false;
        }

        Add(channel);
        _channels.Add(channel);
        return true;
    }

    /// <summary>A packet says how many were lost since the one before it; called for every packet.</summary>
    /// <returns>The number to report.</returns>
    public long AddLost(PcapngInterface origin, ulong lost)
    {
        _justLost = null;
        return lost == 0 ? 0 : Changed(origin, origin.AddLost(lost));
    }

    /// <summary>Statistics say how many were lost since the capture began.</summary>
    /// <returns>The number not yet reported.</returns>
    public long SetTotalLost(PcapngInterface origin, ulong total)
    {
        long lost = origin.SetTotalLost(total);
        return lost == 0 ? 0 : Changed(origin, lost);
    }

    /// <summary>What must be known to read the record last delivered once more.</summary>
    /// <returns>False when that is too much to keep.</returns>
    public bool TryKeep(bool bigEndian, [NotNullWhen(true)] out PcapngState? state)
    {
        state = _state;
        if (state is not null || _section.Count + _channels.Count > MostInMark)
        {
            return state is not null;
        }

        _kept = _kept.AddRange(_all[_kept.Count.._nextId]);
        state = new PcapngState(
            bigEndian, _kept, [.. _section.Select(one => one.Copy(beforeLastLoss: ReferenceEquals(one, _justLost)))], [.. _channels]);
        // With a loss of the record itself, the next record needs another one.
        _state = _justLost is null ? state : null;
        return true;
    }

    /// <summary>Goes back, or forth, to what was kept.</summary>
    public void GoTo(PcapngState state)
    {
        _kept = state.Interfaces;
        _nextId = _kept.Count;
        _all.AddRange(_kept.Skip(_all.Count));
        _section.Clear();
        _section.AddRange(state.Section.Select(one => one.Copy(beforeLastLoss: false)));
        _channels.Clear();
        _channels.AddRange(state.Channels);
        _justLost = null;
        _state = state;
    }

    private bool HasRoom(out InterfaceFault fault)
    {
        fault = new InterfaceFault(
            "there are too many interfaces", -8, "at most " + CaptureDamage.Number(MostInterfaces), "one more");
        return _nextId < MostInterfaces;
    }

    private void Add(CaptureInterface described)
    {
        // After going back, the same descriptions come again.
        if (_nextId == _all.Count)
        {
            _all.Add(described);
        }

        _nextId++;
        _state = null;
    }

    private long Changed(PcapngInterface origin, long lost)
    {
        _justLost = origin;
        _state = null;
        return lost;
    }
}
