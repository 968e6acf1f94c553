using System.Globalization;
using System.Text;

namespace DmxProbe.Cli;

/// <summary>Marks from the keyboard: text and Enter, or Enter alone.</summary>
internal sealed class RecordKeys(Func<ConsoleKeyInfo> readKey, Action<string> mark, RecordProgress progress)
{
    private const int Longest = 200;

    private readonly StringBuilder _typed = new();
    private int _marks;

    /// <summary>Listens on a thread of its own, which ends with the process or with the keyboard.</summary>
    public void Start() => new Thread(Listen) { IsBackground = true, Name = "keys" }.Start();

    /// <summary>Takes in one key.</summary>
    public void Press(ConsoleKeyInfo key)
    {
        if (key.Key == ConsoleKey.Enter)
        {
            _marks++;
            string text = _typed.Length > 0 ? _typed.ToString() : string.Create(CultureInfo.InvariantCulture, $"mark {_marks}");
            _typed.Clear();
            mark(text);
            progress.Say("marked: " + text);
        }
        else if (key.Key == ConsoleKey.Backspace)
        {
            _typed.Length = Math.Max(0, _typed.Length - 1);
        }
        else if (!char.IsControl(key.KeyChar) && _typed.Length < Longest)
        {
            _typed.Append(key.KeyChar);
        }

        progress.Typed(_typed.ToString());
    }

    private void Listen()
    {
        try
        {
            while (true)
            {
                Press(readKey());
            }
        }
        catch (Exception gone) when (gone is InvalidOperationException or IOException)
        {
            // The keyboard went away: the recording goes on without it.
        }
    }
}
