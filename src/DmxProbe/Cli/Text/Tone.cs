namespace DmxProbe.Cli.Text;

/// <summary>How a word stands out. Colour repeats what the word says and never adds to it.</summary>
internal enum Tone
{
    /// <summary>As the terminal has it.</summary>
    Plain,

    /// <summary>Bold.</summary>
    Strong,

    /// <summary>Red.</summary>
    Fault,

    /// <summary>Yellow.</summary>
    Warning,

    /// <summary>Green.</summary>
    Good,
}
