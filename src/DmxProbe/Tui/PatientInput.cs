using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

using Terminal.Gui.App;
using Terminal.Gui.Drivers;

namespace DmxProbe.Tui;

/// <summary>
/// The library's terminal input, asleep until a key comes. The library looks 50 times a second, which costs two thirds of
/// what the analysis of 200 universes does. Where this cannot be put in, the library's own way is left as it is.
/// </summary>
/// <param name="pressed">Called, on the input thread, when something can be read.</param>
internal sealed class PatientInput(Action pressed) : AnsiInput
{
    private const int Milliseconds = 200;
    private const short PollIn = 1;

    /// <summary>Puts it into an application that was just created; false where that is not possible.</summary>
    public static bool PutInto(IApplication app, Action pressed)
    {
        if (OperatingSystem.IsWindows())
        {
            return false;
        }

        try
        {
            FactoryOf(app) = new AnsiComponentFactory(new PatientInput(pressed));
            return true;
        }
        catch (Exception other) when (other is MissingFieldException or TypeLoadException or InvalidCastException)
        {
            // Another version of the library.
            return false;
        }
    }

    /// <inheritdoc/>
    public override bool Peek()
    {
        if (!base.Peek())
        {
            PollEntry keyboard = new() { Descriptor = 0, Asked = PollIn };
            if (!IsAttachedToTerminal || Poll(ref keyboard, 1, Milliseconds) <= 0 || !base.Peek())
            {
                return false;
            }
        }

        pressed();
        return true;
    }

    [UnsafeAccessor(UnsafeAccessorKind.Field, Name = "_componentFactory")]
    private static extern ref IComponentFactory? FactoryOf([UnsafeAccessorType("Terminal.Gui.App.ApplicationImpl, Terminal.Gui")] object app);

    [DllImport("libc", EntryPoint = "poll")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Poll(ref PollEntry entries, nuint count, int milliseconds);

    [StructLayout(LayoutKind.Sequential)]
    private struct PollEntry
    {
        public int Descriptor;
        public short Asked;
        public short Came;
    }
}
