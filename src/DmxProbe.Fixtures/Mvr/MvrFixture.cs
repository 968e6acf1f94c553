namespace DmxProbe.Fixtures.Mvr;

/// <summary>A fixture of the scene, as the file writes it.</summary>
internal sealed class MvrFixture(string name, int line)
{
    public string Name => name;

    /// <summary>Line of the scene description, from 1.</summary>
    public int Line => line;

    public string Spec { get; set; } = "";

    public string Mode { get; set; } = "";

    public string Id { get; set; } = "";

    /// <summary>Identifier of the position it hangs at; empty when it is not said.</summary>
    public string Position { get; set; } = "";

    /// <summary>Break and address, as they are written.</summary>
    public List<(int Break, string Text)> Addresses { get; } = [];
}
