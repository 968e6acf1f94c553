using System.IO.Pipes;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

using Terminal.Gui.App;
using Terminal.Gui.Drivers;

namespace DmxProbe.Tui;

/// <summary>
/// The library's terminal input, asleep until a key comes. The library looks 50 times a second, which costs two thirds of
/// what the analysis of 200 universes does. Where this cannot be put in, the library's own way is left as it is.
/// </summary>
internal sealed class PatientInput : AnsiInput
{
    // Only in case that nobody says that it ends.
    private const int Milliseconds = 5000;
    private const short PollIn = 1;
    private readonly Action _pressed;
    private readonly AnonymousPipeServerStream _bell = new(PipeDirection.Out);
    private readonly int _bellRings;
    private volatile bool _ends;

    private PatientInput(Action pressed)
    {
        _pressed = pressed;
        _bellRings = (int)_bell.ClientSafePipeHandle.DangerousGetHandle();
    }

    /// <summary>Puts it into an application that was just created.</summary>
    /// <param name="app">The application.</param>
    /// <param name="pressed">Called, on the input thread, when something can be read.</param>
    /// <returns>Null where that is not possible.</returns>
    public static PatientInput? PutInto(IApplication app, Action pressed)
    {
        if (OperatingSystem.IsWindows())
        {
            return null;
        }

        try
        {
            PatientInput input = new(pressed);
            FactoryOf(app) = new AnsiComponentFactory(input);
            return input;
        }
        catch (Exception other) when (other is MissingFieldException or TypeLoadException or InvalidCastException)
        {
            // Another version of the library.
            return null;
        }
    }

    /// <summary>Wakes it for good, so that the library can end its thread.</summary>
    public void End()
    {
        _ends = true;
        _bell.WriteByte(1);
    }

    /// <inheritdoc/>
    public override bool Peek()
    {
        if (!base.Peek())
        {
            if (!IsAttachedToTerminal || _ends)
            {
                return false;
            }

            Watched watched = default;
            watched[0] = new PollEntry { Descriptor = 0, Asked = PollIn };
            watched[1] = new PollEntry { Descriptor = _bellRings, Asked = PollIn };
            if (Poll(ref watched[0], 2, Milliseconds) <= 0 || !base.Peek())
            {
                return false;
            }
        }

        _pressed();
        return true;
    }

    [UnsafeAccessor(UnsafeAccessorKind.Field, Name = "_componentFactory")]
    private static extern ref IComponentFactory? FactoryOf([UnsafeAccessorType("Terminal.Gui.App.ApplicationImpl, Terminal.Gui")] object app);

    [DllImport("libc", EntryPoint = "poll")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Poll(ref PollEntry entries, nuint count, int milliseconds);

    [InlineArray(2)]
    private struct Watched
    {
        private PollEntry _first;
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct PollEntry
    {
        public int Descriptor;
        public short Asked;
        public short Came;
    }
}
