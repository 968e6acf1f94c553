namespace DmxProbe.Benchmarks;

/// <summary>Speed.</summary>
public static class LocateSpeed
{
    /// <summary>Runs.</summary>
    public static int Run(string[] arguments) => arguments.Length;
}
