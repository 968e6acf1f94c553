using System.Text;

namespace DmxProbe.Cli;

/// <summary>Writes a JSON page to the host's output.</summary>
internal static class JsonOutput
{
    /// <summary>Lets <paramref name="write"/> fill a page, then prints it whole.</summary>
    /// <exception cref="OutputClosedException">The reader of our output has gone.</exception>
    public static void Write(ProgramHost host, Action<Stream> write)
    {
        using MemoryStream page = new();
        write(page);
        try
        {
            host.Output.Write(Encoding.UTF8.GetString(page.GetBuffer(), 0, (int)page.Length));
            host.Output.Flush();
        }
        catch (IOException closed)
        {
            throw new OutputClosedException(closed);
        }
    }
}
