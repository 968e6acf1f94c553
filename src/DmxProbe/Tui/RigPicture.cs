using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>Everything a view may show, as it was at one moment; immutable.</summary>
/// <param name="At">The moment.</param>
/// <param name="Survey">The survey up to it.</param>
/// <param name="Universes">The universes, the ones in trouble first.</param>
/// <param name="Ended">True when the input has ended.</param>
internal sealed record RigPicture(Timestamp At, SurveySnapshot Survey, IReadOnlyList<UniversePicture> Universes, bool Ended)
{
    /// <summary>The worst finding; null when nothing is wrong.</summary>
    public Finding? Worst => Survey.Findings.Count > 0 ? Survey.Findings[0] : null;
}
