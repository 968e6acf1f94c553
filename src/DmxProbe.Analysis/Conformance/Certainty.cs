namespace DmxProbe.Analysis.Conformance;

/// <summary>How a rule is known.</summary>
public enum Certainty
{
    /// <summary>Read in the text of the document named.</summary>
    Read,

    /// <summary>Follows from what was read by calculation or by reading two clauses together.</summary>
    Derived,

    /// <summary>Known from secondary sources; the document itself was not read for it.</summary>
    Secondary,

    /// <summary>Common practice; no source lays it down.</summary>
    Practice,
}
