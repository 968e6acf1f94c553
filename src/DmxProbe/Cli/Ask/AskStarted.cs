namespace DmxProbe.Cli.Ask;

/// <summary>What was prepared for evidence beside a trace, and is to be closed with the answer.</summary>
/// <param name="Asked">What the run is told.</param>
/// <param name="Dialogue">The guided questions; null = none.</param>
/// <param name="Log">The decision log; null = none.</param>
/// <param name="Answers">The file of answers; null = none.</param>
/// <param name="Wire">The live inputs while questions are asked; null = none.</param>
internal sealed record AskStarted(AskAsked Asked, AskDialogue? Dialogue, AskLog? Log, StreamReader? Answers, AskWire? Wire) : IDisposable
{
    /// <summary>The guided questions on the screen; null = none.</summary>
    public AskScreen? Screen { get; init; }

    /// <summary>Logs the decision.</summary>
    public void Close(LocateRun run)
    {
        string unit = run.About.Unit.Unit;
        bool claims = run.Answer.IsClaim;
        if (Dialogue is not null)
        {
            Dialogue.Close(unit, run.Answer.Sentence, claims);
        }
        else if (Screen is not { HasClosed: true })
        {
            Log?.Write(unit, "as found", run.Answer.Sentence);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Wire?.Dispose();
        Answers?.Dispose();
    }
}
