namespace DmxProbe.Cli;

/// <summary>What the program tells its caller; documented in --help and the README.</summary>
internal static class ExitCode
{
    /// <summary>It ran, and nothing is at fault.</summary>
    public const int Clean = 0;

    /// <summary>It ran and found a fault; <c>locate</c>: the light reads another address.</summary>
    public const int FaultsFound = 1;

    /// <summary>It could not run; <c>demo</c>: its expected answers did not come out.</summary>
    public const int CouldNotRun = 2;

    /// <summary><c>locate</c>: not enough evidence yet.</summary>
    public const int NotEnoughEvidence = 3;

    /// <summary>Ended by Ctrl-C, as shells report it (128 + SIGINT).</summary>
    public const int Interrupted = 130;

    /// <summary>Ended by kill or by a service manager, as shells report it (128 + SIGTERM).</summary>
    public const int Terminated = 143;
}
