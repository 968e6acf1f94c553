using DmxProbe.Analysis.Decoding;
using DmxProbe.Cli;

namespace DmxProbe.Tests.Cli;

public class UniverseMapTests
{
    [Fact]
    public void A_map_is_read_in_any_order_and_case()
    {
        UniverseMap map = UniverseMap.Parse(" 2=SACN:7, 1=artnet:0 ");
        Assert.Equal([(1, ArtNet(0)), (2, Sacn(7))], map.Wire.Select(pair => (pair.Key, pair.Value)));
    }

    [Fact]
    public void Lines_and_serial_ports_go_by_the_letters_they_are_printed_with()
    {
        UniverseMap map = UniverseMap.Parse("1=line:a, 2=Serial:C");
        Assert.Equal([(1, "line A"), (2, "serial C")], map.Wire.Select(pair => (pair.Key, pair.Value.Label)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("1")]
    [InlineData("1=2")]
    [InlineData("one=sacn:1")]
    [InlineData("1=sacn:0")]
    [InlineData("1=sacn:64000")]
    [InlineData("1=artnet:32768")]
    [InlineData("1=artnet:-1")]
    [InlineData("1=line:0")]
    [InlineData("1=line:")]
    [InlineData("1=line:AB")]
    [InlineData("1=serial:1")]
    [InlineData("1=usb:A")]
    [InlineData("1=sacn:A")]
    [InlineData("1=sacn:1,1=sacn:2")]
    [InlineData("1=sacn:99999999999")]
    public void What_is_no_map_is_refused(string text) =>
        Assert.Contains("--map", Assert.Throws<UsageException>(() => UniverseMap.Parse(text)).Message, StringComparison.Ordinal);

    [Fact]
    public void The_only_possible_reading_is_taken()
    {
        UniverseMap map = UniverseMap.Detect([1, 2, 3], [Sacn(2), Sacn(3), ArtNet(0)]);
        Assert.Equal([ArtNet(0), Sacn(2), Sacn(3)], map.Wire.Values);
        Assert.Empty(map.Ambiguous);
    }

    [Fact]
    public void Two_possible_readings_are_named_and_none_is_taken()
    {
        UniverseMap map = UniverseMap.Detect([1], [ArtNet(0), ArtNet(1)]);
        Assert.Empty(map.Wire);
        Assert.Equal([ArtNet(0), ArtNet(1)], Assert.Single(map.Ambiguous).Choices);
    }

    [Fact]
    public void A_universe_that_was_not_captured_is_in_neither_list()
    {
        UniverseMap map = UniverseMap.Detect([5], [ArtNet(0), Sacn(1)]);
        Assert.Empty(map.Wire);
        Assert.Empty(map.Ambiguous);
    }

    [Fact]
    public void A_map_for_some_universes_leaves_the_others_to_be_found()
    {
        UniverseMap map = UniverseMap.Detect([1, 2, 3], [Sacn(2), Sacn(3), ArtNet(0)], 1, UniverseMap.Parse("2=sacn:3"));
        Assert.Equal([(1, ArtNet(0)), (2, Sacn(3))], map.Wire.Select(pair => (pair.Key, pair.Value))); // sACN 3 is given away
        Assert.Empty(map.Ambiguous);
    }

    private static UniverseId Sacn(int number) => new(UniverseProtocol.Sacn, number);

    private static UniverseId ArtNet(int number) => new(UniverseProtocol.ArtNet, number);
}
