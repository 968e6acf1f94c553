using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Tests.Text;

/// <summary>Figures as a person reads them.</summary>
public sealed class FiguresTests
{
    [Theory]
    [InlineData(0.0001, "0.0001")]
    [InlineData(0.000001, "0.000001")]
    [InlineData(0.00015, "0.00015")]
    [InlineData(0.0152, "0.0152")]
    public void A_small_figure_is_written_without_a_power_of_ten(double figure, string written) =>
        Assert.Equal(written, Figures.Number(figure));
}
