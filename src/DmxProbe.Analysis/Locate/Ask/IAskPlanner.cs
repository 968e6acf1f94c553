namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Chooses questions for what one kind of controller can do.</summary>
public interface IAskPlanner
{
    /// <summary>The question that is expected to tell most for its cost; null when no safe question tells anything.</summary>
    AskQuestion? Next(AskPosterior posterior, AskSafety safety);

    /// <summary>A look under which one place is lit and as little else as possible; null when none is safe.</summary>
    AskQuestion? Confirm(AskPosterior posterior, AskSafety safety, int place);

    /// <summary>Told what was carried out, for controllers that hold their values.</summary>
    void Asked(AskQuestion question);
}
