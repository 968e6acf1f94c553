using DmxProbe.Fixtures.Addressing;

namespace DmxProbe.Fixtures.Tests.Addressing;

public sealed class DipSwitchesTests
{
    // Common practice, no source: switch 1 counts 1, switch 9 counts 256. 61 = 32 + 16 + 8 + 4 + 1.
    [Theory]
    [InlineData(1, "1:ON 2:off 3:off 4:off 5:off 6:off 7:off 8:off 9:off")]
    [InlineData(61, "1:ON 2:off 3:ON 4:ON 5:ON 6:ON 7:off 8:off 9:off")]
    [InlineData(256, "1:off 2:off 3:off 4:off 5:off 6:off 7:off 8:off 9:ON")]
    [InlineData(511, "1:ON 2:ON 3:ON 4:ON 5:ON 6:ON 7:ON 8:ON 9:ON")]
    [InlineData(512, "")]
    [InlineData(0, "")]
    public void A_pattern_names_each_switch(int address, string text) => Assert.Equal(text, DipSwitches.Text(address));

    [Fact]
    public void The_switches_that_are_on_count_the_address()
    {
        for (int address = 1; address <= 511; address++)
        {
            Assert.Equal(address, Enumerable.Range(1, DipSwitches.Count).Where(number => DipSwitches.IsOn(address, number)).Sum(DipSwitches.WeightOf));
        }
    }
}
