using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Net;

/// <summary>MLD as RFC 2710 and 3810 lay it out.</summary>
public class MldMessageTests
{
    [Fact]
    public void A_version_2_report_gives_who_is_joined_and_left()
    {
        Assert.True(MldMessage.TryParse(GroupBytes.Mld2Report, out MldMessage message, out _));

        Assert.Equal((GroupMessageKind.Report, 2), (message.Kind, message.Version));
        GroupRecords records = message.Records;
        Assert.True(records.MoveNext());
        Assert.Equal(("ff18::8300:1", true), (records.Current.Group.ToString(), records.Current.Listens));
        Assert.True(records.MoveNext());
        Assert.Equal(("ff18::8300:2", true), (records.Current.Group.ToString(), records.Current.Leaves));
        Assert.False(records.MoveNext());
    }

    [Fact]
    public void Older_messages_and_queries_are_read()
    {
        Assert.True(MldMessage.TryParse(GroupBytes.Mld1Report, out MldMessage report, out _));
        GroupRecords records = report.Records;
        Assert.True(records.MoveNext());
        Assert.Equal((1, "ff18::8300:1", true), (report.Version, records.Current.Group.ToString(), records.Current.Listens));

        Assert.True(MldMessage.TryParse(Vector.With(GroupBytes.Mld1Report, 0, 132), out MldMessage done, out _));
        Assert.Equal(GroupMessageKind.Leave, done.Kind);

        Assert.True(MldMessage.TryParse(GroupBytes.Mld1Query, out MldMessage one, out _));
        Assert.Equal((1, true, 0), (one.Version, one.IsGeneralQuery, one.QueryIntervalSeconds));
        Assert.True(MldMessage.TryParse(GroupBytes.Mld2Query, out MldMessage two, out _));
        Assert.Equal((2, true, 125), (two.Version, two.IsGeneralQuery, two.QueryIntervalSeconds));
    }

    [Fact]
    public void It_is_refused_when_cut_and_when_another_message()
    {
        for (int length = 0; length < 24; length++)
        {
            Assert.False(MldMessage.TryParse(Vector.Cut(GroupBytes.Mld1Report, length), out _, out WireError error));
            Assert.Equal(WireError.Truncated(24, length), error);
        }

        Assert.False(MldMessage.TryParse(Vector.With(GroupBytes.Mld1Report, 0, 135), out _, out WireError other));
        Assert.Equal(WireErrorKind.NotThisProtocol, other.Kind);
    }
}
