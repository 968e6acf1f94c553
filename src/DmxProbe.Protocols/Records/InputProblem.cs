namespace DmxProbe.Protocols.Records;

/// <summary>
/// Why an input could not be read, or not to its end: one sentence for a person. The parts are kept apart so that
/// tests and JSON need not take the sentence to pieces.
/// </summary>
/// <param name="What">What the input is or what happened, starting with a lower-case word: <c>the file ends inside a packet record</c>.</param>
/// <param name="Where">The place: <c>byte 1,204</c>; empty when there is none.</param>
/// <param name="Expected">What was expected there; empty when it says nothing more.</param>
/// <param name="Found">What was found there; empty when it says nothing more.</param>
/// <param name="Advice">What the person can do; empty when nothing helps.</param>
public sealed record InputProblem(string What, string Where, string Expected, string Found, string Advice)
{
    /// <summary>The sentence, without the name of the input: what, where, expected, found, what to do.</summary>
    public override string ToString()
    {
        string text = What;
        if (Where.Length > 0)
        {
            text += " at " + Where;
        }

        if (Expected.Length > 0)
        {
            text += ": expected " + Expected;
        }

        if (Found.Length > 0)
        {
            text += (Expected.Length > 0 ? ", found " : ": found ") + Found;
        }

        return Advice.Length > 0 ? text + "; " + Advice : text;
    }
}
