using System.Text;

namespace DmxProbe.Tests.Cli;

/// <summary>A person at the keyboard: reads what was printed since the last answer, then types a line.</summary>
internal sealed class PersonReader(StringWriter screen, Func<string, string?> person) : TextReader
{
    private int _read;

    public override string? ReadLine()
    {
        StringBuilder text = screen.GetStringBuilder();
        string shown = text.ToString(_read, text.Length - _read);
        _read = text.Length;
        return person(string.Join(' ', shown.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));
    }
}
