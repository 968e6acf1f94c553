using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Findings;
using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>One unit: what it should be doing and why, slot by slot, as <c>explain</c> has it.</summary>
internal static class UnitView
{
    private const int Wide = 100;
    private const int FixedColumns = 36;
    private const int ChangedColumns = 13;
    private const int MostFindings = 2;
    private const int SwatchAt = 16;
    private const int SwatchWidth = 8;
    private const string Shades = " ░▒▓█";
    private const string Downstream = "This is what the wire tells it. A light that differs has another address or mode, or a fault of its own: ";
    private const string Disputed = "Before anything else settle who sends it: receivers may mix them, keep one or flicker between them.";
    private const string NotYet = "At this moment of the recording nothing has been heard of it yet, so nothing can be said of it: go on in time.";
    private const string Upstream = "The wire does not carry it: look at the controller, the network and the numbering.";

    /// <summary>The answer about the unit, one sentence.</summary>
    public static string Sentence(UnitPicture unit, WallClock clock) => unit is { HeardFrom: Timestamp first, Explanation.Universe: { } universe }
        ? $"{unit.Name}: {universe.Label} is not heard yet at this moment; first at {clock.Time(first)}."
        : unit.Explanation is Explanation explanation
        ? ExplainNarrator.Sentence(explanation, clock.Time)
        : $"{unit.Name} has no chart, so nobody can say what it should be doing; put the chart of its type beside the sheet.";

    /// <summary>The rows of the view; keeps <see cref="ScreenState.UnitTop"/> within them.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="picture">What is shown.</param>
    /// <param name="state">Where the person is.</param>
    /// <param name="width">Columns.</param>
    /// <param name="room">Rows.</param>
    /// <param name="canLocate">Whether a key leads to the guided questions.</param>
    public static IReadOnlyList<ScreenRow> Rows(UnitPicture unit, RigPicture picture, ScreenState state, int width, int room, bool canLocate)
    {
        if (unit.Explanation is not Explanation explanation)
        {
            return [];
        }

        string wire = explanation.Universe is { } universe ? universe.Label : "not heard";
        int last = explanation.Unit.Address + explanation.Mode.Footprint - 1;
        List<ScreenRow> head =
        [
            new(RowTexts.Cut(width, $" {Printable.Text(explanation.Unit.Type)}, {Printable.Text(explanation.Unit.Mode)}, {explanation.Unit.Universe}.{explanation.Unit.Address:000} to {last:000}; on the wire {wire}")),
        ];
        List<ScreenRow> foot = [];
        foreach (Finding finding in unit.Findings.Take(MostFindings))
        {
            foot.Add(new ScreenRow(
                RowTexts.Cut(width, $" {Screen.Word(finding.Severity)}: {Printable.Text(finding.Text)}"),
                finding.Severity switch { Severity.Fault => Tint.Fault, Severity.Warning => Tint.Warning, _ => Tint.Plain }));
        }

        foot.AddRange(Wrapped.Rows(unit.HeardFrom is not null ? NotYet : explanation.State switch { null => Disputed, UnitState.NotSent => Upstream, _ => Downstream + (canLocate ? "D finds out which (dmxprobe locate)." : "dmxprobe locate finds which.") }, width, " "));
        if (explanation.Senders.Count > 0)
        {
            state.Sender = Math.Clamp(state.Sender, 0, explanation.Senders.Count - 1);
            SenderView sender = explanation.Senders[state.Sender];
            head.Add(Look(sender, width));
            head.Add(new ScreenRow(RowTexts.Cut(width, $" sent by {Printable.Text(Name(sender))} ({state.Sender + 1} of {explanation.Senders.Count}), {(sender.InCharge ? "obeyed" : "not obeyed")}")));
            IReadOnlyList<IReadOnlyList<int>> history = state.Sender < unit.History.Count ? unit.History[state.Sender] : [];
            (int function, int means) = width < Wide ? (12, 17) : (18, 28);
            int plot = Math.Max(1, width - function - means - FixedColumns);
            head.Add(new ScreenRow(RowTexts.Of($" slot address value {Fitted.To("function", function)} {Fitted.To("means", means)} {Fitted.To("changed", ChangedColumns)} last {Math.Min(plot, history.Count > 0 ? history[0].Count : plot)} s")));
            int shown = Math.Max(1, room - head.Count - foot.Count);
            state.UnitTop = Math.Clamp(state.UnitTop, 0, Math.Max(0, sender.Slots.Count - shown));
            for (int index = state.UnitTop; index < Math.Min(sender.Slots.Count, state.UnitTop + shown); index++)
            {
                head.Add(Row(sender.Slots[index], explanation.Unit.Universe, history.Count > index ? history[index] : [], picture.At, function, means, plot));
            }
        }

        while (head.Count + foot.Count < room)
        {
            head.Add(new ScreenRow(""));
        }

        return [.. head.Take(Math.Max(1, room - foot.Count)), .. foot];
    }

    private static string Name(SenderView sender) =>
        sender.Sender.Name.Length > 0 ? $"'{sender.Sender.Name}'" : sender.Sender.Address.Length > 0 ? sender.Sender.Address : "whoever drives it";

    private static ScreenRow Look(SenderView sender, int width)
    {
        LightOutput light = sender.Light;
        string words = sender.State switch
        {
            UnitState.Dark => "dark",
            UnitState.Flashing => "flashing",
            UnitState.NoLight => "no light by its chart",
            UnitState.NotPredictable => "not predictable",
            UnitState.NotSent => "not reached",
            _ => ExplainNarrator.Light(light),
        };
        if (sender.State is not (UnitState.Lit or UnitState.Dark))
        {
            return new ScreenRow(Wrapped.Cut(" expected look: " + words, width));
        }

        // Without colour the shade says how bright; the words say the rest in any case.
        float top = Math.Clamp(Math.Max(light.Red, Math.Max(light.Green, light.Blue)), 0, 1);
        char shade = Shades[(int)Math.Ceiling(top * (Shades.Length - 1))];
        return new ScreenRow(Wrapped.Cut($" expected look: [{new string(shade, SwatchWidth)}] {words}", width))
        {
            // The shade says how bright: of 16 colours the nearest to a dim one is grey.
            Swatch = new Swatch(SwatchAt + 1, SwatchWidth, Level(light.Red / top), Level(light.Green / top), Level(light.Blue / top)),
        };
    }

    private static byte Level(float share) => float.IsFinite(share) ? (byte)Math.Clamp((int)(share * byte.MaxValue), 0, byte.MaxValue) : (byte)0;

    private static ScreenRow Row(SlotState slot, int universe, IReadOnlyList<int> history, Timestamp at, int function, int means, int plot)
    {
        string told = slot.Value < 0 ? "not sent" : ExplainText.Meaning(slot);
        Span<char> columns = stackalloc char[Math.Min(plot, history.Count)];
        for (int column = 0; column < columns.Length; column++)
        {
            columns[column] = Bars.Column(history[history.Count - columns.Length + column], byte.MaxValue);
        }

        RowText text = new(0, 0);
        text.AppendFormatted(' ');
        text.AppendFormatted(slot.Slot, 4);
        text.AppendFormatted(' ');
        text.AppendFormatted(universe, 3);
        text.AppendFormatted('.');
        text.AppendFormatted(slot.Address, "000");
        text.AppendFormatted(' ');
        if (slot.Value < 0)
        {
            text.AppendFormatted("-", 5);
        }
        else
        {
            text.AppendFormatted(slot.Value, 5);
        }

        text.AppendFormatted(' ');
        text.AppendFormatted(Fitted.To(Printable.Text(slot.Chart?.Function ?? "not on the chart"), function));
        text.AppendFormatted(' ');
        text.AppendFormatted(Fitted.To(Printable.Text(told), means));
        text.AppendFormatted(' ');
        text.AppendFormatted(Fitted.To(Changed(slot, at), ChangedColumns));
        text.AppendFormatted(' ');
        text.AppendFormatted(columns);
        return new ScreenRow(RowTexts.Of(text));
    }

    private static string Changed(SlotState slot, Timestamp at)
    {
        if (slot.Changed is not Timestamp changed)
        {
            return slot.Value < 0 ? "" : "not yet";
        }

        double seconds = Math.Max(0, (at - changed).TotalSeconds);
        (double figure, string unit) = seconds switch
        {
            < 60 => (seconds, "s"),
            < 3600 => (seconds / 60, "min"),
            _ => (seconds / 3600, "h"),
        };
        return RowTexts.Of($"was {slot.Previous}, {Math.Floor(figure):0} {unit}");
    }
}
