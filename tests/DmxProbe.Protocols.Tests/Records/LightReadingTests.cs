using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.Tests.Records;

public class LightReadingTests
{
    [Fact]
    public void What_was_written_is_read_and_a_luminance_alone_is_no_colour()
    {
        byte[] data = new byte[LightReading.Size];
        new LightReading(0.5, double.NaN, double.NaN).Write(data);
        Assert.True(LightReading.TryParse(data, out LightReading luminance));
        Assert.Equal(0.5, luminance.Red);
        Assert.False(luminance.IsColour);

        new LightReading(1, 2, 3).Write(data);
        Assert.True(LightReading.TryParse(data, out LightReading colour));
        Assert.Equal(new LightReading(1, 2, 3), colour);
        Assert.True(colour.IsColour);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(23)]
    [InlineData(25)]
    public void Another_length_is_refused(int length) => Assert.False(LightReading.TryParse(new byte[length], out _));
}
