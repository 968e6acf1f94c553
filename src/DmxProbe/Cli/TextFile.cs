using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Opens sheets, charts and traces by path.</summary>
internal static class TextFile
{
    /// <summary>Opens a text file: UTF-8, or what its byte order mark says.</summary>
    /// <exception cref="InputException">It is a folder, is not there or may not be read.</exception>
    public static StreamReader Open(string path) => Opened(path, name => new StreamReader(name));

    /// <summary>Opens a file of any kind.</summary>
    /// <exception cref="InputException">It is a folder, is not there or may not be read.</exception>
    public static FileStream OpenBytes(string path) => Opened(path, File.OpenRead);

    private static T Opened<T>(string path, Func<string, T> open)
    {
        if (Directory.Exists(path))
        {
            throw Refused(path, "this is a folder, not a file", "name a file inside it");
        }

        try
        {
            return open(path);
        }
        catch (Exception missing) when (missing is FileNotFoundException or DirectoryNotFoundException)
        {
            throw Refused(path, "there is no such file", "check the name and the folder");
        }
        catch (UnauthorizedAccessException)
        {
            throw Refused(path, "this file may not be read", "ask its owner for read permission");
        }
        catch (Exception failure) when (failure is IOException or ArgumentException or NotSupportedException)
        {
            throw new InputException(path, new InputProblem("the file could not be opened", "", "", failure.Message, ""));
        }
    }

    private static InputException Refused(string path, string what, string advice) =>
        new(path, new InputProblem(what, "", "", "", advice));
}
