using System.Buffers.Binary;

namespace DmxProbe.Protocols.Net;

/// <summary>
/// Walks the group records of an IGMPv3 (RFC 3376 section 4.2) or MLDv2 report (RFC 3810 section 5.2), or the one record
/// that an older message amounts to. Ends early where the octets do.
/// </summary>
public ref struct GroupRecords
{
    private static class Field
    {
        public const int Type = 0;
        public const int AuxiliaryLength = 1;
        public const int Sources = 2;
        public const int Group = 4;
    }

    private readonly bool _isIpv6;
    private ReadOnlySpan<byte> _rest;
    private int _left;

    internal GroupRecords(ReadOnlySpan<byte> records, int count, bool isIpv6)
    {
        _rest = records;
        _left = count;
        _isIpv6 = isIpv6;
    }

    internal GroupRecords(GroupRecord only)
    {
        Current = only;
        _left = -1;
    }

    /// <summary>The record reached.</summary>
    public GroupRecord Current { get; private set; }

    /// <summary>Itself, for foreach.</summary>
    public readonly GroupRecords GetEnumerator() => this;

    /// <summary>Goes on to the next.</summary>
    /// <returns>False at the end of the list or of the octets.</returns>
    public bool MoveNext()
    {
        if (_left < 0)
        {
            _left = 0;
            return true;
        }

        int address = _isIpv6 ? 16 : sizeof(uint);
        int header = Field.Group + address;
        if (_left == 0 || _rest.Length < header)
        {
            return false;
        }

        int sources = BinaryPrimitives.ReadUInt16BigEndian(_rest[Field.Sources..]);
        ReadOnlySpan<byte> group = _rest.Slice(Field.Group, address);
        Current = new GroupRecord(
            (GroupRecordType)_rest[Field.Type],
            _isIpv6 ? IpAddress.FromIpv6(group) : IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(group)),
            sources);
        int length = header + (sources * address) + (_rest[Field.AuxiliaryLength] * sizeof(uint));
        _left--;
        _rest = length <= _rest.Length ? _rest[length..] : default;
        return true;
    }
}
