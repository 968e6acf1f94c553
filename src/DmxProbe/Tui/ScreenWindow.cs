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
    private int _version;
    private Cell[,]? _cells;
    private ScreenRow?[] _rows = [];
    private int _width;

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
        if (!ReferenceEquals(_latest(), _drawn) || _screen.Version != _version)
        {
            SetNeedsDraw();
        }
    }

    /// <inheritdoc/>
    protected override bool OnClearingViewport() => true;

    /// <inheritdoc/>
    protected override bool OnDrawingContent(DrawContext? context)
    {
        _drawn = _latest();
        _version = _screen.Version;
        int width = Viewport.Width;
        int height = Viewport.Height;
        IReadOnlyList<ScreenRow> rows = _screen.Rows(_drawn, width, height);

        // The library makes its cells anew when the size changes; until then what stands there need not be written again.
        if (!ReferenceEquals(App?.Driver?.Contents, _cells) || _rows.Length != height || _width != width)
        {
            (_cells, _width, _rows) = (App?.Driver?.Contents, width, new ScreenRow?[height]);
        }

        for (int row = 0; row < height; row++)
        {
            ScreenRow line = row < rows.Count ? rows[row] : new ScreenRow("");
            if (_rows[row] != line)
            {
                Draw(row, line, _rows[row], width);
                _rows[row] = line;
            }
        }

        return true;
    }

    private void Draw(int row, ScreenRow line, ScreenRow? before, int width)
    {
        string text = Wrapped.Fit(line.Text ?? "", width);
        int from = 0;
        int to = text.Length;
        if (before is ScreenRow old && old.Tint == line.Tint && old.Swatch is null && line.Swatch is null && Wrapped.IsPlain(text)
            && Wrapped.Fit(old.Text ?? "", width) is string stood && Wrapped.IsPlain(stood))
        {
            from = text.AsSpan().CommonPrefixLength(stood);
            while (to > from && text[to - 1] == stood[to - 1])
            {
                to--;
            }
        }

        SetAttribute(For(line.Tint));
        Move(from, row);
        AddStr(from == 0 && to == text.Length ? text : text[from..to]);
        if (_color && line.Swatch is Swatch swatch && swatch.From + swatch.Width <= width)
        {
            SetAttribute(new Attribute(new Color(swatch.Red, swatch.Green, swatch.Blue), new Color(ColorName16.Black)));
            Move(swatch.From, row);
            AddStr(line.Text!.Substring(swatch.From, swatch.Width));
        }
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
            : key == Key.F1 ? ScreenKey.Typed('?')
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
            Tint.Key => new Attribute(ColorName16.White, ColorName16.Black),
            Tint.Fault => new Attribute(ColorName16.BrightRed, ColorName16.Black),
            Tint.Warning => new Attribute(ColorName16.BrightYellow, ColorName16.Black),
            _ => new Attribute(ColorName16.Gray, ColorName16.Black),
        }
        : new Attribute(Color.None, Color.None);
}
