using Terminal.Gui.Drawing;
using Terminal.Gui.Input;
using Terminal.Gui.ViewBase;
using Terminal.Gui.Views;

using Attribute = Terminal.Gui.Drawing.Attribute;

namespace DmxProbe.Tui;

/// <summary>Puts the rows of a <see cref="Screen"/> on a terminal and hands its keys on.</summary>
internal sealed class ScreenWindow : Window
{
    private readonly Screen _screen;
    private readonly Func<RigPicture?> _latest;
    private readonly bool _color;
    private RigPicture? _drawn;

    /// <summary>Makes the window.</summary>
    /// <param name="screen">What is shown.</param>
    /// <param name="latest">The newest picture.</param>
    /// <param name="color">False: the terminal's own colours only.</param>
    public ScreenWindow(Screen screen, Func<RigPicture?> latest, bool color)
    {
        _screen = screen;
        _latest = latest;
        _color = color;
        BorderStyle = LineStyle.None;
        Title = "";
    }

    /// <summary>Asks to be drawn again if there is a newer picture.</summary>
    public void Refresh()
    {
        if (!ReferenceEquals(_latest(), _drawn))
        {
            SetNeedsDraw();
        }
    }

    /// <inheritdoc/>
    protected override bool OnDrawingContent(DrawContext? context)
    {
        _drawn = _latest();
        int width = Viewport.Width;
        int height = Viewport.Height;
        IReadOnlyList<ScreenRow> rows = _screen.Rows(_drawn, width, height);
        for (int row = 0; row < height; row++)
        {
            ScreenRow line = row < rows.Count ? rows[row] : default;
            SetAttribute(For(line.Tint));
            Move(0, row);
            AddStr(Wrapped.Fit(line.Text ?? "", width));
            if (_color && line.Swatch is Swatch swatch && swatch.From + swatch.Width <= width)
            {
                SetAttribute(new Attribute(new Color(swatch.Red, swatch.Green, swatch.Blue), new Color(ColorName16.Black)));
                Move(swatch.From, row);
                AddStr(line.Text!.Substring(swatch.From, swatch.Width));
            }
        }

        return true;
    }

    /// <inheritdoc/>
    protected override bool OnKeyDown(Key key)
    {
        ArgumentNullException.ThrowIfNull(key);
        if (key == Key.C.WithCtrl)
        {
            App?.RequestStop();
            return true;
        }

        ScreenKey? pressed =
            key == Key.CursorUp ? new ScreenKey(KeyKind.Up)
            : key == Key.CursorDown ? new ScreenKey(KeyKind.Down)
            : key == Key.PageUp ? new ScreenKey(KeyKind.PageUp)
            : key == Key.PageDown ? new ScreenKey(KeyKind.PageDown)
            : key == Key.CursorLeft ? new ScreenKey(KeyKind.Left)
            : key == Key.CursorRight ? new ScreenKey(KeyKind.Right)
            : key == Key.Home ? new ScreenKey(KeyKind.Home)
            : key == Key.End ? new ScreenKey(KeyKind.End)
            : key == Key.Enter ? new ScreenKey(KeyKind.Enter)
            : key == Key.Esc ? new ScreenKey(KeyKind.Back)
            : key == Key.Backspace ? new ScreenKey(KeyKind.Erase)
            : !key.IsCtrl && !key.IsAlt && key.AsRune is { Value: >= ' ' and <= char.MaxValue } rune ? ScreenKey.Typed((char)rune.Value)
            : null;
        if (pressed is not ScreenKey known)
        {
            return false;
        }

        if (!_screen.Press(known, _latest()))
        {
            App?.RequestStop();
        }

        SetNeedsDraw();
        return true;
    }

    /// <inheritdoc/>
    protected override bool OnMouseEvent(Mouse mouse)
    {
        ArgumentNullException.ThrowIfNull(mouse);
        RigPicture? picture = _latest();
        bool stays = true;
        if (mouse.Flags.HasFlag(MouseFlags.WheeledUp) || mouse.Flags.HasFlag(MouseFlags.WheeledDown))
        {
            stays = _screen.Press(new ScreenKey(mouse.Flags.HasFlag(MouseFlags.WheeledUp) ? KeyKind.Up : KeyKind.Down), picture);
        }
        else if (mouse.Flags.HasFlag(MouseFlags.LeftButtonClicked) && mouse.Position is { } place)
        {
            stays = _screen.Click(place.X, place.Y, picture);
        }
        else
        {
            return false;
        }

        if (!stays)
        {
            App?.RequestStop();
        }

        SetNeedsDraw();
        return true;
    }

    private Attribute For(Tint tint) => _color
        ? tint switch
        {
            Tint.Frame => new Attribute(ColorName16.Black, ColorName16.Gray),
            Tint.Chosen => new Attribute(ColorName16.Black, ColorName16.Cyan),
            Tint.Fault => new Attribute(ColorName16.BrightRed, ColorName16.Black),
            Tint.Warning => new Attribute(ColorName16.BrightYellow, ColorName16.Black),
            _ => new Attribute(ColorName16.Gray, ColorName16.Black),
        }
        : new Attribute(Color.None, Color.None);
}
