using System.Buffers.Binary;
using System.Text;
using DmxProbe.Protocols.Rdm;

namespace DmxProbe.Analysis.Rdm;

/// <summary>
/// What a device said about itself so far: the parameters that tell where it reads and in which personality. Bounded: 256
/// personalities, 512 slots, 512 parts.
/// </summary>
internal sealed class RdmReading
{
    private const int MostText = 32;
    private const int NoAddress = 0xFFFF;
    private const int LastAddress = 512;
    private readonly SortedDictionary<int, RdmPersonality> _personalities = [];
    private readonly SortedDictionary<int, RdmSlotLabel> _kinds = [];
    private readonly SortedDictionary<int, string> _names = [];
    private readonly SortedDictionary<int, RdmSubDevice> _parts = [];
    private int? _footprint;

    public int? ModelId { get; private set; }

    public string Manufacturer { get; private set; } = "";

    public string Model { get; private set; } = "";

    public string Label { get; private set; } = "";

    public int? StartAddress { get; private set; }

    public int? Personality { get; private set; }

    public int? PersonalityCount { get; private set; }

    public bool? IsIdentifying { get; private set; }

    /// <summary>Slots of the personality it is in; null where it did not say since it changed.</summary>
    public int? Footprint => _footprint ?? (Personality is int now && _personalities.TryGetValue(now, out RdmPersonality? known) ? known.Footprint : null);

    public IReadOnlyList<RdmPersonality> Personalities => [.. _personalities.Values];

    public IReadOnlyList<RdmSubDevice> Parts => [.. _parts.Values];

    public IReadOnlyList<RdmSlot> Slots =>
    [
        .. _kinds.Keys.Union(_names.Keys).Order().Select(offset => new RdmSlot(
            offset + 1,
            _kinds.TryGetValue(offset, out RdmSlotLabel kind) ? kind.Words : "",
            _names.GetValueOrDefault(offset, ""))),
    ];

    /// <summary>Takes the data of an answer to GET.</summary>
    public void Answered(int parameter, int part, ReadOnlySpan<byte> data)
    {
        switch (parameter)
        {
            case RdmParameter.DeviceInfo when RdmDeviceInfo.TryRead(data, out RdmDeviceInfo info):
                Info(part, in info);
                break;
            case RdmParameter.StartAddress when data.Length >= 2:
                Address(part, BinaryPrimitives.ReadUInt16BigEndian(data));
                break;
            case RdmParameter.Personality when data.Length >= 2 && part == 0:
                Changed(data[0]);
                PersonalityCount = data[1];
                break;
            case RdmParameter.PersonalityDescription when data.Length >= 3 && part == 0:
                _personalities[data[0]] = new RdmPersonality(data[0], BinaryPrimitives.ReadUInt16BigEndian(data[1..]), Text(data[3..]));
                break;
            case RdmParameter.SlotInfo when part == 0:
                Kinds(data);
                break;
            case RdmParameter.SlotDescription when data.Length >= 2 && part == 0:
                if (BinaryPrimitives.ReadUInt16BigEndian(data) is var offset and < LastAddress)
                {
                    _names[offset] = Text(data[2..]);
                }

                break;
            case RdmParameter.ModelDescription when part == 0:
                Model = Text(data);
                break;
            case RdmParameter.ManufacturerLabel when part == 0:
                Manufacturer = Text(data);
                break;
            case RdmParameter.DeviceLabel when part == 0:
                Label = Text(data);
                break;
            case RdmParameter.IdentifyDevice when data.Length >= 1 && part == 0:
                IsIdentifying = data[0] != 0;
                break;
        }
    }

    /// <summary>A change was asked for and the device agreed.</summary>
    /// <param name="parameter">What was changed.</param>
    /// <param name="part">0 = the device itself.</param>
    /// <param name="value">The first octets of the request's data, as one number.</param>
    public void Set(int parameter, int part, int value)
    {
        switch (parameter)
        {
            case RdmParameter.StartAddress:
                Address(part, value);
                break;
            case RdmParameter.Personality when part == 0:
                Changed(value >> 8);
                break;
            case RdmParameter.IdentifyDevice when part == 0:
                IsIdentifying = value >> 8 != 0;
                break;
        }
    }

    /// <summary>An address of the device or of a part of it.</summary>
    public void Address(int part, int address)
    {
        if (address != NoAddress && address is < 1 or > LastAddress)
        {
            return;
        }

        address = address == NoAddress ? 0 : address;
        if (part == 0)
        {
            StartAddress = address;
        }
        else if (part <= LastAddress)
        {
            _parts[part] = new RdmSubDevice(part, address, _parts.TryGetValue(part, out RdmSubDevice? known) ? known.Footprint : null);
        }
    }

    private void Info(int part, in RdmDeviceInfo info)
    {
        if (part != 0)
        {
            if (part <= LastAddress)
            {
                Address(part, info.StartAddress);
                _parts[part] = new RdmSubDevice(part, _parts.TryGetValue(part, out RdmSubDevice? known) ? known.StartAddress : 0, info.Footprint);
            }

            return;
        }

        ModelId = info.ModelId;
        Address(0, info.Footprint == 0 ? NoAddress : info.StartAddress);
        Personality = info.Personality;
        PersonalityCount = info.PersonalityCount;
        _footprint = info.Footprint;
    }

    // Another personality has another footprint, which the device may have described or not.
    private void Changed(int personality)
    {
        if (Personality != personality)
        {
            _footprint = null;
            _kinds.Clear();
            _names.Clear();
        }

        Personality = personality;
    }

    private void Kinds(ReadOnlySpan<byte> data)
    {
        for (; data.Length >= RdmSlotLabel.Length; data = data[RdmSlotLabel.Length..])
        {
            int offset = BinaryPrimitives.ReadUInt16BigEndian(data);
            if (offset < LastAddress)
            {
                _kinds[offset] = new RdmSlotLabel(offset, data[2], BinaryPrimitives.ReadUInt16BigEndian(data[3..]));
            }
        }
    }

    // Some devices pad with zeros.
    private static string Text(ReadOnlySpan<byte> data)
    {
        int end = data.IndexOf((byte)0);
        data = end >= 0 ? data[..end] : data;
        return Encoding.UTF8.GetString(data[..Math.Min(data.Length, MostText)]).Trim();
    }
}
