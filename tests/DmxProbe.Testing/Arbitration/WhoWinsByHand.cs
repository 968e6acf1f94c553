using System.Globalization;
using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Testing.Arbitration;

/// <summary>
/// What must come of captures/arbitration/who-wins.pcapng, worked out by hand from the standards: E1.31-2018 by clause
/// (read), Art-Net 4 1.4dn by page (read), the per-address priority convention ("convention": secondary sources). Where a
/// row rests on how we read a text that leaves something open, it says "our reading".
/// </summary>
/// <param name="Seconds">When, after the start of the capture.</param>
/// <param name="Universe">The universe.</param>
/// <param name="Slot">The slot, 1 to 512.</param>
/// <param name="Answer">Who by which rule = level; one answer for each kind of receiver.</param>
/// <param name="Source">The rule and where it stands.</param>
public sealed record WhoWinsByHand(double Seconds, UniverseId Universe, int Slot, string Answer, string Source)
{
    // second | universe.slot | who by which rule = level, one answer for each kind of receiver | the rule's source
    private const string Table = """
        -- sACN 1: packet priority --------------------------------------------------------------------------------------
        1.0   | sacn:1.1   | Main OnlySender = 10                                                        | 6.2.3: one source, its newest packet counts
        1.0   | sacn:1.5   | nobody NotSent = ?                                                          | 7.6: four slots are sent; the fifth is nobody's
        3.0   | sacn:1.1   | Main+Backup EqualPriority = ?                                               | 6.2.3.1-2: same priority: merge, arbitrate or exceed, the receiver's choice
        3.0   | sacn:1.2   | Main+Backup EqualPriority = 20                                              | 6.2.3.1: both send 20, so whichever it takes it puts out 20
        4.01  | sacn:1.1   | Backup HigherPriority = 200                                                 | 6.2.3: 150 over 100, from its first packet with it
        6.01  | sacn:1.1   | Main HigherPriority = 10                                                    | 6.2.3: 100 over 50
        8.01  | sacn:1.1   | Backup HigherPriority = 200                                                 | 6.2.3
        11.45 | sacn:1.1   | Backup HigherPriority = 200                                                 | 6.7.1: last packet at 9.0, 2.5 s not over
        11.55 | sacn:1.1   | Main OnlySender = 10                                                        | 6.7.1: lost at 11.5
        13.9  | sacn:1.1   | Backup HigherPriority = 200                                                 | 6.2.3: it is back
        14.01 | sacn:1.1   | Main OnlySender = 10                                                        | 6.2.6: lost at the FIRST packet with Stream_Terminated, whose values do not count
        16.85 | sacn:1.1   | Main OnlySender = 10                                                        | 6.7.1: last packet at 14.4
        16.95 | sacn:1.1   | nobody Nobody = 10                                                          | 6.7.1, 10.2.2: what a receiver does now is a setting of its own; it had 10
        -- sACN 2: per-address priority ---------------------------------------------------------------------------------
        1.5   | sacn:2.1   | Main HigherPriority = 11                                                    | 6.2.3: 100 over 90, nobody sends DDh
        2.05  | sacn:2.1   | SlotBySlot: Backup AddressPriority = 91; WholeUniverse: Main HigherPriority = 11   | convention: 200 for this slot over packet priority 100; 6.2.3 for a receiver without it
        2.05  | sacn:2.2   | SlotBySlot: Main OnlySourced = 12; WholeUniverse: Main HigherPriority = 12         | convention: 0 = not sourced by Backup
        2.05  | sacn:2.3   | SlotBySlot: Main AddressPriority = 13; WholeUniverse: Main HigherPriority = 13     | convention: 50 under 100
        2.05  | sacn:2.4   | SlotBySlot: Main+Backup EqualPriority = ?; WholeUniverse: Main HigherPriority = 14 | convention and 6.2.3.2: 100 beside 100
        7.45  | sacn:2.1   | SlotBySlot: Backup AddressPriority = 91; WholeUniverse: Main HigherPriority = 11   | convention: last DDh at 5.0, counts for 2.5 s
        7.55  | sacn:2.1   | Main HigherPriority = 11                                                    | convention: DDh is gone, packet priority counts
        9.05  | sacn:2.1   | SlotBySlot: Backup OnlySourced = 91; WholeUniverse: Main HigherPriority = 11       | convention: Main says 0; Backup has packet priority 90 alone
        9.05  | sacn:2.3   | SlotBySlot: Main+Backup ReservedPriority = ?; WholeUniverse: Main HigherPriority = 13 | convention: 201 to 255 are reserved, what a receiver does is not known
        9.05  | sacn:2.4   | SlotBySlot: Main AddressPriority = 14; WholeUniverse: Main HigherPriority = 14     | convention: 120 over packet priority 90
        12.6  | sacn:2.1   | SlotBySlot: nobody NotSourced = 0; WholeUniverse: Main OnlySender = 11             | 6.7.1: Backup lost at 12.5 (last packet at 10.0); convention: nobody sources it: 0
        -- sACN 3: synchronization, Force_Synchronization 0 -------------------------------------------------------------
        0.01  | sacn:3.1   | Main OnlySender = 1                                                         | 6.2.4.1, 11.1.1: no sync packet yet: act at once
        0.11  | sacn:3.1   | Main OnlySender = 1; WithoutSynchronization: Main OnlySender = 2            | 6.2.4.1: synchronized at 0.02: hold
        0.13  | sacn:3.1   | Main OnlySender = 1; WithoutSynchronization: Main OnlySender = 3            | 11.2.1: the newest waits
        0.15  | sacn:3.1   | Main OnlySender = 3                                                         | 11.2.1: the sync packet at 0.14 lets the newest through
        3.45  | sacn:3.1   | Main OnlySender = 3; WithoutSynchronization: Main OnlySender = 31           | 6.2.4.1: held since the sync packet at 1.0
        3.65  | sacn:3.1   | Main OnlySender = 3; WithoutSynchronization: Main OnlySender = 36           | 6.2.6, 11.1.2: no sync for 2.5 s and bit 5 = 0: frozen
        5.01  | sacn:3.1   | Main OnlySender = 46                                                        | 6.2.4.1: sync resumes at 5.0 (that it lets through what came while frozen is our reading)
        5.11  | sacn:3.1   | Main OnlySender = 99                                                        | 6.2.4.1: sync address 0: act at once
        -- sACN 4: Force_Synchronization 1; no sync packet comes for it alone, both universes wait for 7962 ------------
        0.13  | sacn:4.1   | Main OnlySender = 1; WithoutSynchronization: Main OnlySender = 3            | 6.2.4.1: the sync packets of 7962 are for every universe that asks for 7962
        3.45  | sacn:4.1   | Main OnlySender = 3; WithoutSynchronization: Main OnlySender = 31           | 6.2.4.1: held
        3.65  | sacn:4.1   | Main OnlySender = 36                                                        | 6.2.6, 11.1.2: bit 5 = 1: the next packet after 2.5 s acts
        -- sACN 5: the higher priority sends two slots ------------------------------------------------------------------
        3.0   | sacn:5.1   | Backup HigherPriority = 101                                                 | 6.2.3: 120 over 100
        3.0   | sacn:5.3   | WholeUniverse: nobody NotSent = 3; SlotBySlot: Main OnlySourced = 3          | 6.2.3: its data are the data of the universe; a merger by slots takes Main (our reading)
        -- Art-Net Port-Address 1: merge --------------------------------------------------------------------------------
        1.5   | artnet:1.1 | A OnlySender = 10                                                           | p.76: one sender
        3.5   | artnet:1.1 | HighestValue: B HighestValue = 100; LatestValue: B LatestChange = 100       | p.76: two addresses on one Port-Address: merge, by a setting nobody told
        3.5   | artnet:1.2 | HighestValue: A HighestValue = 200; LatestValue: B LatestChange = 100       | p.76: highest or latest (that a newcomer counts as latest is our reading)
        3.5   | artnet:1.3 | HighestValue: A+B EqualValue = 50; LatestValue: B LatestChange = 50         | p.76: both send 50
        4.5   | artnet:1.2 | A HighestValue = 200                                                        | p.40: GoodOutputA bit 1 = 0: the node merges HTP
        5.8   | artnet:1.2 | A HighestValue = 200                                                        | p.76: two sources only, the third (255) is ignored
        6.5   | artnet:1.2 | B LatestChange = 100                                                        | p.55: AcMergeLtp0 to the node
        7.05  | artnet:1.1 | A LatestChange = 11                                                         | p.76: A changed it at 7.0
        18.05 | artnet:1.2 | B LatestChange = 100                                                        | p.77: B failed at 8.1 and is held for 10 s
        18.2  | artnet:1.2 | A PartnerLost = 200                                                         | p.77: the merge has let go at 18.1
        18.6  | artnet:1.2 | C LatestChange = 255                                                        | p.76: C is the second now
        20.6  | artnet:1.1 | C MergeCancelled = 255                                                      | p.50, 77: AcCancelMerge at 20.2: the next ArtDmx, C's at 20.5, is in sole control
        25.1  | artnet:1.1 | C MergeCancelled = 255                                                      | p.77: A goes on and is ignored (our reading)
        -- Art-Net Port-Address 2: ArtSync ------------------------------------------------------------------------------
        0.10  | artnet:2.1 | A OnlySender = 1                                                            | p.78: not synchronous before the first ArtSync
        0.30  | artnet:2.1 | A OnlySender = 1; WithoutSynchronization: A OnlySender = 2                  | p.78: synchronous since 0.15: held
        0.50  | artnet:2.1 | A OnlySender = 2                                                            | p.78: ArtSync at 0.45
        0.70  | artnet:2.1 | A OnlySender = 2; WithoutSynchronization: A OnlySender = 3                  | p.79: ArtSync from another address than the last ArtDmx is ignored
        0.80  | artnet:2.1 | A OnlySender = 3                                                            | p.78: ArtSync from A
        4.70  | artnet:2.1 | A OnlySender = 3; WithoutSynchronization: A OnlySender = 4                  | p.78: last ArtSync at 0.75, 4 s not over
        4.90  | artnet:2.1 | A OnlySender = 5                                                            | p.78: no ArtSync for 4 s: not synchronous any more
        6.10  | artnet:2.1 | HighestValue: A HighestValue = 5; LatestValue: B LatestChange = 2           | p.76: B joins
        6.30  | artnet:2.1 | HighestValue: A HighestValue = 6; LatestValue: A LatestChange = 6           | p.79: while different addresses are merged ArtSync does nothing
        """;

    /// <summary>The rows as they are written.</summary>
    public static IReadOnlyList<string> Lines { get; } =
        [.. Table.Split('\n', StringSplitOptions.TrimEntries).Where(line => !line.StartsWith("--", StringComparison.Ordinal))];

    /// <summary>Reads a row.</summary>
    public static WhoWinsByHand Read(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        string[] cells = line.Split('|', StringSplitOptions.TrimEntries);
        string[] place = cells[1].Split(':', '.');
        return new WhoWinsByHand(
            double.Parse(cells[0], CultureInfo.InvariantCulture),
            new UniverseId(place[0] == "sacn" ? UniverseProtocol.Sacn : UniverseProtocol.ArtNet, int.Parse(place[1], CultureInfo.InvariantCulture)),
            int.Parse(place[2], CultureInfo.InvariantCulture),
            string.Join("; ", cells[2].Split(';', StringSplitOptions.TrimEntries)),
            cells[3]);
    }
}
