using DmxProbe.Protocols.Serial;

namespace DmxProbe.Protocols.Tests.Serial;

public class SerialRunTests
{
    [Fact]
    public void Each_character_has_a_status_and_a_value()
    {
        Assert.True(SerialRun.TryParse([1, 0, 0, 255, 6, 7], out SerialRun run));
        Assert.Equal(3, run.Count);
        Assert.Equal(SerialStatus.Break, run.Status(0));
        Assert.Equal(255, run[1]);
        Assert.Equal(SerialStatus.Error | SerialStatus.Overrun, run.Status(2));
        Assert.Equal(7, run[2]);
    }

    [Fact]
    public void Half_a_character_is_refused() => Assert.False(SerialRun.TryParse([0, 1, 0], out _));
}
