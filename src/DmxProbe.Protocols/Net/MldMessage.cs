using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>
/// MLD message of version 1 (RFC 2710) or 2 (RFC 3810): what IGMP is for IPv4; a view over the payload of an ICMPv6 packet.
/// </summary>
public readonly ref struct MldMessage
{
    private static class Field
    {
        public const int Type = 0;
        public const int RecordCount = 6;
        public const int Records = 8;
        public const int Group = 8;
        public const int GroupEnd = 24;
        public const int QuerierInterval = 25;
        public const int Sources = 28;
    }

    private const byte QueryType = 130;
    private const byte Version1Report = 131;
    private const byte Version1Done = 132;
    private const byte Version2Report = 143;

    private readonly ReadOnlySpan<byte> _data;

    private MldMessage(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>ICMPv6 type as sent: 130 query, 131 and 143 report, 132 done.</summary>
    public byte Type => _data[Field.Type];

    /// <summary>What it is for.</summary>
    public GroupMessageKind Kind => Type switch
    {
        QueryType => GroupMessageKind.Query,
        Version1Done => GroupMessageKind.Leave,
        _ => GroupMessageKind.Report,
    };

    /// <summary>Version of MLD, 1 or 2; a query's is told by its length (RFC 3810 section 8.1).</summary>
    public int Version => Type == Version2Report || (Type == QueryType && _data.Length >= Field.Sources) ? 2 : 1;

    /// <summary>Group asked for, reported or left; :: in a general query. A version 2 report has <see cref="Records"/> instead.</summary>
    public IpAddress Group => Type == Version2Report
        ? IpAddress.FromIpv6(0, 0)
        : IpAddress.FromIpv6(_data[Field.Group..Field.GroupEnd]);

    /// <summary>Whether it asks for every group at once.</summary>
    public bool IsGeneralQuery => Kind == GroupMessageKind.Query && Group == IpAddress.FromIpv6(0, 0);

    /// <summary>Seconds between the querier's general queries; 0 where it does not say (version 1).</summary>
    public int QueryIntervalSeconds =>
        Kind == GroupMessageKind.Query && Version == 2 ? IgmpMessage.Seconds(_data[Field.QuerierInterval]) : 0;

    /// <summary>What a report or done message says of each group; nothing for a query.</summary>
    public GroupRecords Records => Type switch
    {
        QueryType => default,
        Version2Report => new GroupRecords(
            _data[Field.Records..], BinaryPrimitives.ReadUInt16BigEndian(_data[Field.RecordCount..]), isIpv6: true),
        Version1Done => new GroupRecords(new GroupRecord(GroupRecordType.ChangeToInclude, Group, 0)),
        _ => new GroupRecords(new GroupRecord(GroupRecordType.ModeIsExclude, Group, 0)),
    };

    /// <summary>Makes the view.</summary>
    /// <param name="data">The ICMPv6 message, as far as captured.</param>
    /// <param name="message">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: another ICMPv6 message. Truncated: fewer than 24 octets, 8 for a version 2 report.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out MldMessage message, out WireError error)
    {
        message = default;
        byte type = data.IsEmpty ? QueryType : data[Field.Type];
        if (type is not (QueryType or Version1Report or Version1Done or Version2Report))
        {
            error = new WireError(WireErrorKind.NotThisProtocol, Field.Type, QueryType, type);
            return false;
        }

        int needed = type == Version2Report ? Field.Records : Field.GroupEnd;
        if (data.Length < needed)
        {
            error = WireError.Truncated(needed, data.Length);
            return false;
        }

        message = new MldMessage(data);
        error = default;
        return true;
    }
}
