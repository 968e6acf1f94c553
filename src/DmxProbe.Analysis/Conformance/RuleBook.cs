namespace DmxProbe.Analysis.Conformance;

/// <summary>
/// The rules of network captures, each with its source and how it is known: findings print it from here, docs/network.md
/// lists it, and a test holds the two together. One long table on purpose.
/// </summary>
public static class RuleBook
{
    private const string ArtNet = "Art-Net 4 (1.4dn) ";
    private const string Sacn = "E1.31-2018 ";

    /// <summary>All rules, sACN first, then Art-Net, then the network.</summary>
    public static IReadOnlyList<Rule> All { get; } =
    [
        new("sacn-flags-and-length", "Each flags and length field counts from its own first octet to the end of the packet.", Sacn + "5.4, 6.1, 7.1, 8.1", Certainty.Read),
        new("sacn-priority-over-200", "Priorities are 0 to 200.", Sacn + "6.2.3", Certainty.Read),
        new("sacn-reserved-universe", "Universes for data are 1 to 63999.", Sacn + "9.1.1", Certainty.Read),
        new("sacn-name-unterminated", "The source name ends with a zero octet.", Sacn + "6.2.2", Certainty.Read),
        new("sacn-name-not-utf8", "The source name is UTF-8.", Sacn + "6.2.2", Certainty.Read),
        new("sacn-wrong-group", "The multicast group follows from the universe; a synchronization packet goes to the group of its address only.", Sacn + "9.3.1, 9.3.2, 6.3.3.1", Certainty.Read),
        new("sacn-misread-ipv6-group", "The IPv6 group is the one of Table 9-12, ff18::8300:universe; the running text reads otherwise.", Sacn + "9.3.2", Certainty.Derived),
        new("sacn-wrong-port", "Multicast goes to UDP port 5568.", Sacn + "9.1.1", Certainty.Read),
        new("sacn-broadcast", "Data go by multicast or unicast; broadcast is not described.", Sacn + "9", Certainty.Derived),
        new("sacn-reserved-options", "Option bits 0 to 4 are sent as 0.", Sacn + "6.2.6", Certainty.Read),
        new("sacn-reserved-octets", "Reserved octets of synchronization and discovery packets are sent as 0.", Sacn + "6.3.4, 6.4.3", Certainty.Read),
        new("sacn-discarded-by-receivers", "Preamble, post-amble and DMP fields have one allowed value; receivers discard others.", Sacn + "5.1, 5.2, 7.2 to 7.5", Certainty.Read),
        new("sacn-unknown-vector", "Root and framing vectors are those defined; receivers discard others.", Sacn + "5.5, 6.5", Certainty.Read),
        new("sacn-sync-address", "A synchronization packet carries an address of 1 to 63999.", Sacn + "6.3.3.1, 9.1.1", Certainty.Read),
        new("sacn-list-not-sorted", "A discovery list is sorted by number.", Sacn + "8.5", Certainty.Read),
        new("sacn-list-page", "Pages of a discovery list are numbered from 0 to the last page.", Sacn + "8.3, 8.4", Certainty.Read),
        new("sacn-list-reserved-universe", "A discovery list holds universes that may carry data.", Sacn + "8.5, 9.1.1", Certainty.Derived),
        new("draft-layout", "The layout is the ratified one.", Sacn + "5.5", Certainty.Derived),
        new("synchronization-frozen", "A receiver that was synchronised updates no more once no synchronization came for 2.5 s and Force_Synchronization is 0.", Sacn + "6.2.6, 11.1.2", Certainty.Read),
        new("synchronization-stopped", "With Force_Synchronization 1 a receiver goes on with the next data once no synchronization came for 2.5 s.", Sacn + "6.2.6, 11.1.2", Certainty.Read),
        new("synchronization-missing", "A receiver acts at once until it gets a synchronization packet for the address.", Sacn + "6.2.4.1, 11.1.1", Certainty.Read),
        new("synchronization-unused", "Synchronization packets are for data that carry their address.", Sacn + "11", Certainty.Derived),
        new("synchronization-two-senders", "One source sends synchronization for an address; several are out of scope and unpredictable.", Sacn + "11.2.1", Certainty.Read),
        new("synchronization-sequence", "Synchronization packets have a count of their own; receivers discard what does not advance.", Sacn + "6.3.2, 6.7.2", Certainty.Read),
        new("keep-alive-slow", "Unchanged data are repeated every 800 to 1000 ms (sACN); about every 4 s, 800 to 1000 ms recommended (Art-Net).", Sacn + "6.6.2; " + ArtNet + "page 72", Certainty.Read),
        new("keep-alive-fast", "Unchanged data are repeated every 800 to 1000 ms.", Sacn + "6.6.2", Certainty.Read),
        new("repeats-before-keep-alive", "Three packets with the unchanged values come before the rate is reduced.", Sacn + "6.6.2", Certainty.Read),
        new("faster-than-a-line", "A universe for lines is not sent faster than a line carries it.", Sacn + "6.6.1; " + ArtNet + "page 75", Certainty.Read),
        new("stream-ended", "A source ends a stream with three termination packets.", Sacn + "6.2.6", Certainty.Read),
        new("sender-fell-silent", "A source that was silent for its loss time is lost, and comes back as a new one.", Sacn + "6.7.1; " + ArtNet + "pages 76 and 77", Certainty.Read),
        new("sender-stopped", "A source is lost 2.5 s after its last packet (sACN); a merge lets go after 10 s (Art-Net).", Sacn + "6.7.1; " + ArtNet + "pages 76 and 77", Certainty.Read),
        new("lost-packets", "Sequence numbers follow each other for each source, universe and packet type.", Sacn + "6.2.5, 6.7.2; " + ArtNet + "page 74", Certainty.Read),
        new("packets-out-of-order", "A receiver discards packets whose number is up to 19 behind.", Sacn + "6.7.2", Certainty.Read),
        new("sequence-restarted", "A step back of 20 or more is accepted: the source counts anew.", Sacn + "6.7.2", Certainty.Read),
        new("repeated-packets", "A receiver discards a packet whose number came already.", Sacn + "6.7.2", Certainty.Read),
        new("sequence-stuck", "The sequence number advances with each packet.", Sacn + "6.2.5, 6.7.2; " + ArtNet + "page 74", Certainty.Read),
        new("sequence-not-used", "Sequence 0 switches the count off.", ArtNet + "page 74", Certainty.Read),
        new("sequence-over-universes", "The sequence is counted for each universe by itself.", Sacn + "6.2.5", Certainty.Read),
        new("senders-at-equal-priority", "Of several sources at the highest priority each receiver makes what its maker chose.", Sacn + "6.2.3.1 to 6.2.3.6", Certainty.Read),
        new("obeyed-sender-changed", "The source of the highest priority decides the universe.", Sacn + "6.2.3", Certainty.Read),
        new("one-cid-several-addresses", "A source is its CID.", Sacn + "3.5", Certainty.Read),
        new("preview-data", "Preview data do not drive live output.", Sacn + "6.2.6", Certainty.Read),
        new("discovery-missing-universe", "The list holds every universe with data.", Sacn + "8.5, 12.2", Certainty.Read),
        new("discovery-not-seen", "A listed universe carries data or synchronization.", Sacn + "8.5", Certainty.Read),
        new("discovery-still-lists", "A universe that ended is gone from the list by the second interval, 20 s.", Sacn + "6.7.1.1, 12.2", Certainty.Read),
        new("discovery-absent", "Every source sends the list every 10 s; older ones may not.", Sacn + "4, 4.3, 12", Certainty.Read),
        new("discovery-rate", "The list is sent every 10 s, once more within the interval when it changed.", Sacn + "4.3", Certainty.Read),
        new("alternate-start-code", "Slots of a START code other than 0 are no levels.", "E1.11", Certainty.Secondary),
        new("per-address-priority", "START code DDh carries a priority for each slot.", "a convention of the trade", Certainty.Secondary),
        new("reserved-start-code", "START codes 92h to A9h, ABh to CBh and CDh are reserved.", "E1.11", Certainty.Secondary),
        new("experimental-start-code", "START codes F0h to F7h are for experiments, not for products.", "E1.11", Certainty.Secondary),
        new("art-net-length", "Length is even, 2 to 512 (ArtNzs: 1 to 512).", ArtNet + "pages 74 and 80", Certainty.Read),
        new("art-net-broadcast", "ArtDmx is unicast; older editions allowed broadcast.", ArtNet + "page 74", Certainty.Read),
        new("art-net-port", "Source and destination port are 6454.", ArtNet + "on its UDP port", Certainty.Read),
        new("art-net-old-version", "The protocol version is 14; controllers should ignore lower ones.", ArtNet + "on ProtVer", Certainty.Read),
        new("several-art-net-senders", "A device merges two senders of a Port-Address and ignores further ones.", ArtNet + "pages 76 and 77", Certainty.Read),
        new("art-net-bit-7", "Bit 15 of a Port-Address is 0.", ArtNet + "page 20", Certainty.Read),
        new("art-nzs-start-code", "ArtNzs carries neither START code 0 nor that of RDM.", ArtNet + "page 80", Certainty.Read),
        new("art-sync-unicast", "ArtSync is broadcast, never unicast.", ArtNet + "pages 77 to 79", Certainty.Read),
        new("art-sync-foreign", "A device ignores ArtSync from another address than that of its last ArtDmx.", ArtNet + "pages 77 to 79", Certainty.Read),
        new("art-sync-while-merging", "A device ignores ArtSync while it merges two addresses.", ArtNet + "pages 77 to 79", Certainty.Read),
        new("art-sync-stopped", "A device acts at once again when no ArtSync came for 4 s.", ArtNet + "pages 77 to 79", Certainty.Read),
        new("poll-interval", "Controllers send ArtPoll every 2.5 to 3 s.", ArtNet + "on ArtPoll", Certainty.Read),
        new("odd-poll-reply", "A reply has 239 octets, states port 6454 and follows a poll.", ArtNet + "pages 36 to 44", Certainty.Read),
        new("device-states-other-address", "A reply states the address of the device.", ArtNet + "pages 36 to 44", Certainty.Read),
        new("device-too-many-ports", "A reply describes at most four ports.", ArtNet + "pages 36 to 44", Certainty.Read),
        new("device-silent", "A device that stays silent for 3 s counts as disconnected.", ArtNet + "on ArtPoll", Certainty.Read),
        new("device-merges-unseen", "GoodOutputA bit 3 is set while two sources are merged.", ArtNet + "pages 36 to 44, 76", Certainty.Read),
        new("art-rdm-broadcast", "ArtTodData and ArtRdm are unicast.", ArtNet + "pages 96 to 103", Certainty.Read),
        new("device-programmed", "ArtAddress, ArtInput and ArtIpProg change the settings of a device from afar.", ArtNet + "pages 45, 50 to 57, 86", Certainty.Read),
        new("sent-to-unlisted-port", "ArtDmx goes to devices whose replies list the Port-Address.", ArtNet + "page 74", Certainty.Read),
        new("output-without-sender", "An output repeats its last frame until somebody sends to its Port-Address.", ArtNet + "page 72", Certainty.Read),
        new("device-address-shared", "One address belongs to one device.", "", Certainty.Practice),
        new("address-conflict", "One address is claimed by one adapter; two within 60 s are a conflict.", "", Certainty.Practice),
        new("two-interfaces-one-network", "A computer is in one network by one interface.", "", Certainty.Practice),
        new("packets-captured-twice", "One packet has one IP identification and one UDP checksum, however often it is captured.", "RFC 791", Certainty.Secondary),
        new("packets-sent-twice", "A sender sends each packet once.", Sacn + "6.6.2", Certainty.Derived),
        new("switch-loop", "One packet comes not more than ten times within a second.", "", Certainty.Practice),
        new("packets-in-bursts", "Five packets of a universe do not come within 5 ms after a gap of more than 100 ms.", "", Certainty.Practice),
        new("unsteady-arrival", "Of a steady sender, 99 % of the intervals are below three times their median, and few below a third of it.", "", Certainty.Practice),
        new("fragmented-packets", "A lighting packet fits one IP packet.", "", Certainty.Practice),
        new("slot-count-varies", "A sender keeps to one number of slots.", "", Certainty.Practice),
        new("no-querier", "A querier asks every 125 s; a switch forgets who listens 260 s after the last report.", "RFC 3376 8.2, 8.4", Certainty.Secondary),
        new("querier-silent", "A querier counts as gone after 255 s.", "RFC 3376 8.5", Certainty.Secondary),
        new("multicast-aged-out", "A switch forgets who listens 260 s after the last report; some after 255 s.", "RFC 3376 8.4", Certainty.Secondary),
        new("two-queriers", "Of several queriers the one with the lowest address goes on, the others fall silent.", "RFC 3376 6.6.2", Certainty.Secondary),
        new("old-group-version", "Receivers join by IGMPv2 or a later version.", Sacn + "9.2", Certainty.Read),
        new("multicast-nobody-joined", "A switch that snoops sends a group only where it was joined; over 50 Mbit/s of other groups troubles slow devices.", "", Certainty.Practice),
        new("joined-nobody-sends", "A joined universe is sent by somebody.", "", Certainty.Practice),
    ];

    private static readonly Dictionary<string, Rule> ById = All.ToDictionary(rule => rule.Id, StringComparer.Ordinal);

    /// <summary>The source that findings of an id print.</summary>
    /// <exception cref="KeyNotFoundException">No rule has that id: a fault of the program.</exception>
    public static string SourceOf(string id) => ById[id].Source;
}
