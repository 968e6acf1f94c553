using DmxProbe.Analysis.Survey;

namespace DmxProbe.Cli;

/// <summary>
/// An input without a single record is no capture of anything: that is not the same as "nothing wrong", and no table of nothing
/// is made of it (docs/decisions/0006).
/// </summary>
internal static class NoRecords
{
    /// <summary>Refuses inputs of which none has a record: why they end early where that is the reason.</summary>
    /// <param name="inputs">The inputs, after they were read.</param>
    /// <param name="to">What was to be done, as in <c>survey</c>.</param>
    /// <exception cref="UsageException">None has one.</exception>
    public static void Refuse(IReadOnlyList<InputSummary> inputs, string to)
    {
        if (inputs.Sum(input => input.Records) == 0)
        {
            throw new UsageException(inputs.FirstOrDefault(input => input.Cut is not null) is InputSummary cut
                ? $"{cut.Name}: {cut.Cut}"
                : $"{string.Join(", ", inputs.Select(input => input.Name))}: no record is in it, so there is nothing to {to}; check that the capture ran, and where");
        }
    }
}
