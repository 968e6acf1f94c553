using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings;

/// <summary>One cause that a survey can prove: a pure function of the snapshot.</summary>
public interface ISurveyRule
{
    /// <summary>The findings of this rule, none when all is well.</summary>
    /// <param name="snapshot">The survey; its own findings are not filled yet.</param>
    IEnumerable<Finding> Judge(SurveySnapshot snapshot);
}
