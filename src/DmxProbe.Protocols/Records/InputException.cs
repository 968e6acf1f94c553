namespace DmxProbe.Protocols.Records;

/// <summary>
/// A source could not be opened. Thrown only while opening (never per record); the program prints the sentence and
/// ends with exit code 2.
/// </summary>
public sealed class InputException : Exception
{
    /// <summary>Makes the exception from the problem.</summary>
    public InputException(string inputName, InputProblem problem)
        : base(inputName + ": " + problem)
    {
        InputName = inputName;
        Problem = problem;
    }

    /// <summary>The input as the person named it; untrusted text.</summary>
    public string InputName { get; }

    /// <summary>What is wrong with it.</summary>
    public InputProblem Problem { get; }
}
