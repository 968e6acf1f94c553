using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>One RDM device on one universe, as it answered. Its texts are untrusted.</summary>
public sealed record RdmDevice
{
    /// <summary>The universe: an Art-Net Port-Address, a line or a serial port.</summary>
    public required UniverseId Universe { get; init; }

    /// <summary>Its unique ID.</summary>
    public required RdmUid Uid { get; init; }

    /// <summary>When it was first named or heard.</summary>
    public required Timestamp First { get; init; }

    /// <summary>When it was last named or heard.</summary>
    public required Timestamp Last { get; init; }

    /// <summary>Number of the record that named it first.</summary>
    public required long FirstRecord { get; init; }

    /// <summary>Whether a gateway's table named it.</summary>
    public bool IsInTable { get; init; }

    /// <summary>Whether it answered itself: a request, or discovery.</summary>
    public bool IsHeard { get; init; }

    /// <summary>Model number of its manufacturer; null where it did not say.</summary>
    public int? ModelId { get; init; }

    /// <summary>What its manufacturer calls itself; empty where it did not say.</summary>
    public string Manufacturer { get; init; } = "";

    /// <summary>What the model is called; empty where it did not say.</summary>
    public string Model { get; init; } = "";

    /// <summary>What a person named it (DEVICE_LABEL); empty where it did not say.</summary>
    public string Label { get; init; } = "";

    /// <summary>Its DMX start address, 1 to 512; 0 where it says that it has none; null where it did not say.</summary>
    public int? StartAddress { get; init; }

    /// <summary>When it last said so.</summary>
    public Timestamp? AddressAt { get; init; }

    /// <summary>The record in which it last said so; 0 where it did not.</summary>
    public long AddressRecord { get; init; }

    /// <summary>When it last said its personality or its number of slots; null where it did not.</summary>
    public Timestamp? PersonalityAt { get; init; }

    /// <summary>The record in which it last said so; 0 where it did not.</summary>
    public long PersonalityRecord { get; init; }

    /// <summary>Slots it takes in its personality; null where it is not known.</summary>
    public int? Footprint { get; init; }

    /// <summary>Its personality, from 1; null where it did not say.</summary>
    public int? Personality { get; init; }

    /// <summary>How many it has; null where it did not say.</summary>
    public int? PersonalityCount { get; init; }

    /// <summary>Its personalities as far as it described them.</summary>
    public IReadOnlyList<RdmPersonality> Personalities { get; init; } = [];

    /// <summary>Its slots as far as it described them, by number.</summary>
    public IReadOnlyList<RdmSlot> Slots { get; init; } = [];

    /// <summary>Its parts with an address of their own, as far as they answered.</summary>
    public IReadOnlyList<RdmSubDevice> SubDevices { get; init; } = [];

    /// <summary>Whether it shows itself (IDENTIFY_DEVICE); null where it is not known.</summary>
    public bool? IsIdentifying { get; init; }

    /// <summary>Changes of its start address in the capture, oldest first; at most 16.</summary>
    public IReadOnlyList<RdmAddressChange> AddressChanges { get; init; } = [];

    /// <summary>Requests to it.</summary>
    public long Requests { get; init; }

    /// <summary>Answers to them.</summary>
    public long Answers { get; init; }

    /// <summary>Requests that stayed without an answer.</summary>
    public long Unanswered { get; init; }

    /// <summary>Second answers to one request: two devices with one UID.</summary>
    public long SecondAnswers { get; init; }

    /// <summary>Collisions in a discovery branch that holds no UID but this: two devices with one UID.</summary>
    public long CollisionsOfItsOwn { get; init; }

    /// <summary>Longest time to an answer: on a line from the end of the request, on a network through the gateway. Null without one.</summary>
    public Duration? Slowest { get; init; }

    /// <summary>Answers on a line that began later than a responder may (2.0 ms).</summary>
    public long Late { get; init; }

    /// <summary>Refusals by reason (NACK), the most frequent first.</summary>
    public IReadOnlyList<RdmRefusal> Refusals { get; init; } = [];

    /// <summary>How often it left the gateway's table.</summary>
    public long Vanished { get; init; }

    /// <summary>How often it came back into it.</summary>
    public long Returned { get; init; }

    /// <summary>When it said that it reads at its present address; null where it did not.</summary>
    public RdmSpan? AddressSaid { get; init; }

    /// <summary>When two of its UID showed; null where they did not.</summary>
    public RdmSpan? TwiceSeen { get; init; }

    /// <summary>From the first request that stayed without an answer to the last; null without one.</summary>
    public RdmSpan? UnansweredFrom { get; init; }

    /// <summary>From the first late answer to the last; null without one.</summary>
    public RdmSpan? LateFrom { get; init; }

    /// <summary>From when it was told, or said, that it shows itself; null where it does not.</summary>
    public RdmSpan? IdentifyingFrom { get; init; }

    /// <summary>From when it first left the gateway's table to its last leaving or coming back; null where it stayed.</summary>
    public RdmSpan? TableMoves { get; init; }

    /// <summary>What its present personality is called; empty where it did not say.</summary>
    public string PersonalityName => Personalities.FirstOrDefault(each => each.Number == Personality)?.Name ?? "";

    /// <summary>How a person would point at it: the UID, and the label where it has one.</summary>
    public string Name => Label.Length > 0 ? $"{Uid} '{Label}'" : Uid.ToString();

    /// <summary>The last slot it reads; null where address or footprint are not known, or it reads none.</summary>
    public int? LastSlot => StartAddress is int address and > 0 && Footprint is int slots and > 0 ? address + slots - 1 : null;
}
