namespace DmxProbe.Fixtures.Tables;

/// <summary>The first problems of a file: a person corrects a few at a time, and a hostile file must not fill the memory.</summary>
internal sealed class ProblemList
{
    /// <summary>How many are kept.</summary>
    public const int Kept = 20;

    private readonly List<TableProblem> _problems = [];

    public bool Any => _problems.Count > 0;

    public bool Full => _problems.Count >= Kept;

    public IReadOnlyList<TableProblem> Problems => _problems;

    public void Add(TableProblem problem)
    {
        if (!Full)
        {
            _problems.Add(problem);
        }
    }
}
