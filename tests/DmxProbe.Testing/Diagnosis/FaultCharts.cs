using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>The charts of the rigs that faults are put into, all invented.</summary>
public static class FaultCharts
{
    private const string Wash = """
        mode,slot,function,from,to,meaning
        10 slot,1,Dimmer,0,255,0 to 100%
        10 slot,2,Red,0,255,0 to 100%
        10 slot,3,Green,0,255,0 to 100%
        10 slot,4,Blue,0,255,0 to 100%
        10 slot,5,White,0,255,0 to 100%
        10 slot,6,Shutter,0,9,open
        10 slot,6,Shutter,10,19,closed
        10 slot,6,Shutter,20,239,strobe slow to fast
        10 slot,6,Shutter,240,255,open
        10 slot,7,Colour macro,0,9,no function
        10 slot,7,Colour macro,10,255,colour 1 to 20
        10 slot,8,Auto programme,0,9,no function
        10 slot,8,Auto programme,10,255,automatic programme
        10 slot,9,Iris,0,9,closed
        10 slot,9,Iris,10,255,open
        10 slot,10,Control,0,199,no function
        10 slot,10,Control,200,255,reset
        6 slot,1,Red,0,255,0 to 100%
        6 slot,2,Green,0,255,0 to 100%
        6 slot,3,Blue,0,255,0 to 100%
        6 slot,4,White,0,255,0 to 100%
        6 slot,5,Dimmer,0,255,0 to 100%
        6 slot,6,Strobe,0,9,no strobe
        6 slot,6,Strobe,10,255,strobe slow to fast

        """;

    private const string Head = """
        mode,slot,function,from,to,meaning
        14 slot,1,Pan,0,255,
        14 slot,2,Pan fine,0,255,
        14 slot,3,Tilt,0,255,
        14 slot,4,Tilt fine,0,255,
        14 slot,5,Pan and tilt speed,0,255,fast to slow
        14 slot,6,Dimmer,0,255,0 to 100%
        14 slot,7,Shutter,0,9,open
        14 slot,7,Shutter,10,19,closed
        14 slot,7,Shutter,20,255,strobe slow to fast
        14 slot,8,Red,0,255,0 to 100%
        14 slot,9,Green,0,255,0 to 100%
        14 slot,10,Blue,0,255,0 to 100%
        14 slot,11,Colour macro,0,9,no function
        14 slot,11,Colour macro,10,255,colour 1 to 20
        14 slot,12,Auto programme,0,9,no function
        14 slot,12,Auto programme,10,255,automatic programme
        14 slot,13,Iris,0,9,closed
        14 slot,13,Iris,10,255,open
        14 slot,14,Control,0,199,no function
        14 slot,14,Control,200,255,reset

        """;

    // Colours and nothing else: at whatever address it reads, its light follows slots. A unit with a shutter or a programme
    // mostly reads one of them elsewhere, and then its light says nothing of the address.
    private const string Batten = "mode,slot,function,from,to,meaning\n4 slot,1,Red,0,255,0 to 100%\n4 slot,2,Green,0,255,0 to 100%\n4 slot,3,Blue,0,255,0 to 100%\n4 slot,4,White,0,255,0 to 100%\n";

    private const string Dimmer = "mode,slot,function,from,to,meaning\n1 slot,1,Dimmer,0,255,0 to 100%\n";

    /// <summary>All of them.</summary>
    public static ChartSet All { get; } = new([Read("wash", Wash), Read("head", Head), Read("dimmer", Dimmer), Read("batten", Batten)]);

    private static Chart Read(string type, string text)
    {
        using StringReader reader = new(text);
        ChartReading reading = ChartReader.Read(type, reader);
        return reading.Chart ?? throw new InvalidOperationException(string.Join("; ", reading.Problems));
    }
}
