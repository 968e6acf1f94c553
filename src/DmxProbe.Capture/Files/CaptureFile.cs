using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Files;

/// <summary>Opens capture files by path. What is inside is read by <see cref="CaptureFileReader"/>.</summary>
public static class CaptureFile
{
    /// <summary>The path that stands for standard input.</summary>
    public const string StandardInput = "-";

    /// <summary>
    /// Opens a capture or a line recording, told apart by its first octets, or a folder of recorded segments as one. Named
    /// pipes and standard input (<c>-</c>) are read as they come; files that are still being written may be opened and end
    /// where they end now.
    /// </summary>
    /// <param name="path">The file as the person named it, or <see cref="StandardInput"/>.</param>
    /// <returns>A source; disposing it closes the file.</returns>
    /// <exception cref="InputException">There is no such file, it may not be read, or it is no capture.</exception>
    public static ICaptureSource Open(string path) => Open(path, LineFileOptions.None);

    /// <summary>As <see cref="Open(string)"/>, with what the person says about a line recording.</summary>
    /// <param name="path">The file as the person named it, or <see cref="StandardInput"/>.</param>
    /// <param name="options">Rate, bit and threshold, where the file does not say them.</param>
    /// <returns>A source; disposing it closes the file.</returns>
    /// <exception cref="InputException">There is no such file, it may not be read, or it is no capture.</exception>
    public static ICaptureSource Open(string path, LineFileOptions options)
    {
        ArgumentNullException.ThrowIfNull(path);
        return path == StandardInput
            ? CaptureFileReader.Open(Console.OpenStandardInput(), "standard input", options)
            : Directory.Exists(path) ? RecordedFolder.Open(path)
            : OpenFile(path, options);
    }

    /// <summary>Opens one file.</summary>
    internal static ICaptureSource OpenFile(string path, LineFileOptions options) =>
        CaptureFileReader.Open(OpenStream(path), path, options);

    private static FileStream OpenStream(string path)
    {
        // Opening a folder says "access denied", which sends people after permissions.
        if (Directory.Exists(path))
        {
            throw Refused(path, "this is a folder, not a file", "", "name a capture file inside it");
        }

        try
        {
            return new FileStream(
                path,
                new FileStreamOptions
                {
                    Mode = FileMode.Open,
                    Access = FileAccess.Read,
                    Share = FileShare.ReadWrite | FileShare.Delete,
                    BufferSize = 0, // the reader has its own
                    Options = FileOptions.SequentialScan,
                });
        }
        catch (Exception missing) when (missing is FileNotFoundException or DirectoryNotFoundException)
        {
            throw Refused(path, "there is no such file", "", "check the name and the folder");
        }
        catch (UnauthorizedAccessException)
        {
            throw Refused(path, "this file may not be read", "", "ask its owner for read permission");
        }
        catch (Exception failure) when (failure is IOException or ArgumentException or NotSupportedException)
        {
            throw Refused(path, "the file could not be opened", failure.Message, "");
        }
    }

    private static InputException Refused(string path, string what, string found, string advice) =>
        new(path, new InputProblem(what, "", "", found, advice));
}
