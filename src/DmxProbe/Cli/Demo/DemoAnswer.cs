namespace DmxProbe.Cli.Demo;

/// <summary>One answer that the built-in soundcheck must give.</summary>
/// <param name="Question">What is asked.</param>
/// <param name="Expected">The answer that was built into the soundcheck.</param>
/// <param name="Found">The answer that came out.</param>
internal sealed record DemoAnswer(string Question, string Expected, string Found)
{
    /// <summary>Whether it came out as it must.</summary>
    public bool Reproduced => Expected == Found;
}
