namespace DmxProbe.Testing.Files;

/// <summary>Where test data lies.</summary>
public static class Places
{
    /// <summary>The folder that holds DmxProbe.sln.</summary>
    public static string Repository { get; } = FindRepository();

    /// <summary>
    /// The folder of recordings that may be read but not committed (DMXPROBE_SHARED, else ../shared beside the
    /// repository), or null where there is none.
    /// </summary>
    public static string? Shared { get; } = FindShared();

    /// <summary>Why a test that needs <see cref="Shared"/> is skipped.</summary>
    public const string NoShared = "needs the shared recordings: set DMXPROBE_SHARED or put them in ../shared";

    /// <summary>A file of <see cref="Shared"/>, or null where the folder or the file is absent.</summary>
    public static string? SharedFile(params string[] parts)
    {
        if (Shared is null)
        {
            return null;
        }

        string path = Path.Combine([Shared, .. parts]);
        return File.Exists(path) ? path : null;
    }

    private static string FindRepository()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "DmxProbe.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("no DmxProbe.sln above " + AppContext.BaseDirectory);
    }

    private static string? FindShared()
    {
        string? named = Environment.GetEnvironmentVariable("DMXPROBE_SHARED");
        string folder = string.IsNullOrEmpty(named) ? Path.Combine(Repository, "..", "shared") : named;
        return Directory.Exists(folder) ? Path.GetFullPath(folder) : null;
    }
}
