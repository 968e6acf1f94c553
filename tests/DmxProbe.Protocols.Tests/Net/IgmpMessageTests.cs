using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Net;

/// <summary>IGMP as RFC 1112, 2236 and 3376 lay it out.</summary>
public class IgmpMessageTests
{
    [Fact]
    public void A_version_3_report_gives_its_records()
    {
        Assert.True(IgmpMessage.TryParse(GroupBytes.Igmp3Report, out IgmpMessage message, out _));

        Assert.Equal((GroupMessageKind.Report, 3), (message.Kind, message.Version));
        Assert.True(message.IsChecksumRight);
        List<GroupRecord> records = [];
        foreach (GroupRecord record in message.Records)
        {
            records.Add(record);
        }

        Assert.Equal(["239.255.0.1", "239.255.0.2"], records.Select(record => record.Group.ToString()));
        Assert.Equal([GroupRecordType.ModeIsExclude, GroupRecordType.ModeIsInclude], records.Select(record => record.Type));
        Assert.Equal([0, 1], records.Select(record => record.Sources));
        Assert.All(records, record => Assert.True(record.Listens && !record.Leaves));
    }

    // RFC 3376 section 7.1: 8 octets with response time 0 are version 1, else version 2; 12 and more are version 3.
    [Theory]
    [InlineData("11 00 ee ff 00 00 00 00", 1, true, 0)]
    [InlineData("11 64 ee 9b 00 00 00 00", 2, true, 0)]
    [InlineData("11 64 ff 9a ef ff 00 01", 2, false, 0)]
    [InlineData("11 64 ec 1e 00 00 00 00 02 7d 0000", 3, true, 125)]
    [InlineData("11 64 ec 0f 00 00 00 00 02 8c 0000", 3, true, 224)]
    public void A_query_tells_its_version_and_interval(string hex, int version, bool isGeneral, int seconds)
    {
        Assert.True(IgmpMessage.TryParse(Vector.Hex(hex), out IgmpMessage message, out _));

        Assert.Equal((GroupMessageKind.Query, version), (message.Kind, message.Version));
        Assert.Equal((isGeneral, seconds), (message.IsGeneralQuery, message.QueryIntervalSeconds));
        Assert.False(message.Records.MoveNext());
    }

    [Theory]
    [InlineData("12 00 fd fe ef ff 00 01", GroupMessageKind.Report, 1, true)]
    [InlineData("16 00 f9 fe ef ff 00 01", GroupMessageKind.Report, 2, true)]
    [InlineData("17 00 f8 fe ef ff 00 01", GroupMessageKind.Leave, 2, false)]
    public void Older_messages_amount_to_one_record(string hex, GroupMessageKind kind, int version, bool listens)
    {
        Assert.True(IgmpMessage.TryParse(Vector.Hex(hex), out IgmpMessage message, out _));

        Assert.Equal((kind, version), (message.Kind, message.Version));
        GroupRecords records = message.Records;
        Assert.True(records.MoveNext());
        Assert.Equal(("239.255.0.1", listens, !listens), (records.Current.Group.ToString(), records.Current.Listens, records.Current.Leaves));
        Assert.False(records.MoveNext());
    }

    // RFC 3376 section 4.2.12: what each record type means for the group as a whole.
    [Theory]
    [InlineData(GroupRecordType.ModeIsInclude, 0, false, true)]
    [InlineData(GroupRecordType.ModeIsInclude, 1, true, false)]
    [InlineData(GroupRecordType.ModeIsExclude, 0, true, false)]
    [InlineData(GroupRecordType.ChangeToInclude, 0, false, true)]
    [InlineData(GroupRecordType.ChangeToExclude, 2, true, false)]
    [InlineData(GroupRecordType.AllowNewSources, 1, true, false)]
    [InlineData(GroupRecordType.BlockOldSources, 1, false, false)]
    [InlineData((GroupRecordType)9, 1, false, false)]
    public void A_record_says_whether_the_host_listens(GroupRecordType type, int sources, bool listens, bool leaves)
    {
        GroupRecord record = new(type, IpAddress.FromIpv4(0xEFFF0001), sources);
        Assert.Equal((listens, leaves), (record.Listens, record.Leaves));
    }

    [Fact]
    public void It_is_refused_when_cut_and_when_of_another_type()
    {
        for (int length = 0; length < 8; length++)
        {
            Assert.False(IgmpMessage.TryParse(Vector.Cut(GroupBytes.Igmp2Report, length), out _, out WireError error));
            Assert.Equal(WireError.Truncated(8, length), error);
        }

        Assert.False(IgmpMessage.TryParse(Vector.With(GroupBytes.Igmp2Report, 0, 0x14), out _, out WireError other));
        Assert.Equal(WireErrorKind.NotThisProtocol, other.Kind);
    }

    [Fact]
    public void A_report_that_promises_more_records_than_it_holds_gives_those_it_holds()
    {
        byte[] data = Vector.With(GroupBytes.Igmp3Report, 6, 0xFF, 0xFF);
        Assert.True(IgmpMessage.TryParse(data, out IgmpMessage message, out _));
        int count = 0;
        foreach (GroupRecord record in message.Records)
        {
            count += record.Group.IsMulticast ? 1 : 0;
        }

        Assert.Equal(2, count);
    }
}
