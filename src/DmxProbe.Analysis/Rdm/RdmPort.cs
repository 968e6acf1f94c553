using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>What RDM did on one universe.</summary>
public sealed record RdmPort
{
    /// <summary>The universe.</summary>
    public required UniverseId Universe { get; init; }

    /// <summary>The first RDM packet.</summary>
    public required Timestamp First { get; init; }

    /// <summary>The last.</summary>
    public required Timestamp Last { get; init; }

    /// <summary>Record of the first.</summary>
    public required long FirstRecord { get; init; }

    /// <summary>Requests to one device.</summary>
    public long Requests { get; init; }

    /// <summary>Answers of devices, those to discovery not counted.</summary>
    public long Answers { get; init; }

    /// <summary>Requests to all devices or all of a manufacturer, discovery not counted: nobody answers.</summary>
    public long Broadcasts { get; init; }

    /// <summary>Discovery requests (DISC_UNIQUE_BRANCH).</summary>
    public long Discoveries { get; init; }

    /// <summary>Whole answers to them; only a line shows those.</summary>
    public long DiscoveryReplies { get; init; }

    /// <summary>Answers of several devices at once, or damaged ones: normal while a controller searches.</summary>
    public long DiscoveryCollisions { get; init; }

    /// <summary>Messages with a wrong length or checksum.</summary>
    public long Damaged { get; init; }

    /// <summary>The first record with one; 0 without.</summary>
    public long FirstDamagedRecord { get; init; }

    /// <summary>From the first of them to the last; null without one.</summary>
    public RdmSpan? DamagedFrom { get; init; }

    /// <summary>Whole tables of devices that gateways sent.</summary>
    public long Tables { get; init; }

    /// <summary>How often a table differed from the one before.</summary>
    public long TableChanges { get; init; }

    /// <summary>Orders to forget the table and search anew.</summary>
    public long Flushes { get; init; }

    /// <summary>Levels beside RDM on a line or serial port; null where there are none to compare.</summary>
    public RdmShare? Share { get; init; }
}
