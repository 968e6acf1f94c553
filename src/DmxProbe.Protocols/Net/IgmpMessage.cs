using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>
/// IGMP message of version 1 (RFC 1112), 2 (RFC 2236) or 3 (RFC 3376): who asks and who listens to which group; a view
/// over the payload of an IPv4 packet.
/// </summary>
public readonly ref struct IgmpMessage
{
    private static class Field
    {
        public const int Type = 0;
        public const int MaximumResponse = 1;
        public const int Checksum = 2;
        public const int Group = 4;
        public const int RecordCount = 6;
        public const int Records = 8;
        public const int QuerierRobustness = 8;
        public const int QuerierInterval = 9;
        public const int SourceCount = 10;
        public const int Sources = 12;
    }

    private const byte QueryType = 0x11;
    private const byte Version1Report = 0x12;
    private const byte Version2Report = 0x16;
    private const byte Version2Leave = 0x17;
    private const byte Version3Report = 0x22;

    /// <summary>Fewest octets of a message.</summary>
    public const int MinimumLength = Field.Records;

    private readonly ReadOnlySpan<byte> _data;

    private IgmpMessage(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Type as sent: 11h query, 12h, 16h and 22h report, 17h leave.</summary>
    public byte Type => _data[Field.Type];

    /// <summary>What it is for.</summary>
    public GroupMessageKind Kind => Type switch
    {
        QueryType => GroupMessageKind.Query,
        Version2Leave => GroupMessageKind.Leave,
        _ => GroupMessageKind.Report,
    };

    /// <summary>Version of IGMP, 1 to 3; a query's is told by its length and response time (RFC 3376 section 7.1).</summary>
    public int Version => Type switch
    {
        Version1Report => 1,
        Version2Report or Version2Leave => 2,
        Version3Report => 3,
        _ => _data.Length >= Field.Sources ? 3 : _data[Field.MaximumResponse] == 0 ? 1 : 2,
    };

    /// <summary>Group asked for, reported or left; 0.0.0.0 in a general query. A version 3 report has <see cref="Records"/> instead.</summary>
    public IpAddress Group => Type == Version3Report
        ? default
        : IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.Group..]));

    /// <summary>Whether it asks for every group at once.</summary>
    public bool IsGeneralQuery => Kind == GroupMessageKind.Query && Group.Low == 0;

    /// <summary>Seconds between the querier's general queries; 0 where it does not say (before version 3).</summary>
    public int QueryIntervalSeconds =>
        Kind == GroupMessageKind.Query && Version == 3 ? Seconds(_data[Field.QuerierInterval]) : 0;

    /// <summary>Whether the checksum over the message is right.</summary>
    public bool IsChecksumRight => InternetChecksum.Of(_data) == 0;

    /// <summary>What a report or leave says of each group; nothing for a query.</summary>
    public GroupRecords Records => Type switch
    {
        QueryType => default,
        Version3Report => new GroupRecords(
            _data[Field.Records..], BinaryPrimitives.ReadUInt16BigEndian(_data[Field.RecordCount..]), isIpv6: false),
        Version2Leave => new GroupRecords(new GroupRecord(GroupRecordType.ChangeToInclude, Group, 0)),
        _ => new GroupRecords(new GroupRecord(GroupRecordType.ModeIsExclude, Group, 0)),
    };

    /// <summary>Makes the view.</summary>
    /// <param name="data">The payload of the IPv4 packet, as far as captured.</param>
    /// <param name="message">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: a type of routers' own. Truncated: fewer than 8 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out IgmpMessage message, out WireError error)
    {
        message = default;
        if (data.Length < MinimumLength)
        {
            error = WireError.Truncated(MinimumLength, data.Length);
            return false;
        }

        if (data[Field.Type] is not (QueryType or Version1Report or Version2Report or Version2Leave or Version3Report))
        {
            error = new WireError(WireErrorKind.NotThisProtocol, Field.Type, QueryType, data[Field.Type]);
            return false;
        }

        message = new IgmpMessage(data);
        error = default;
        return true;
    }

    // Codes from 128 on are a small float: 1mmm of mantissa, three bits of exponent (RFC 3376 section 4.1.7).
    internal static int Seconds(byte code) => code < 128 ? code : ((code & 0x0F) | 0x10) << (((code >> 4) & 7) + 3);
}
