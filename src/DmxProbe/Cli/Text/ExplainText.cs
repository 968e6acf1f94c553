using System.Globalization;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Explain;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Text;

/// <summary>The answer of <c>explain</c> as text: the verdict, then slot by slot, then who sends and how it was read.</summary>
internal static class ExplainText
{
    private const int MostSenders = 6;
    private static readonly HashSet<int> FigureColumns = [0, 1, 3];

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, ExplainRun run, PatchRecognition sheet, int? perPage, WallClock clock)
    {
        Explanation explanation = run.Explanation;
        PatchUnit unit = explanation.Unit;
        Tone tone = explanation.State switch
        {
            UnitState.Lit => Tone.Good,
            null or UnitState.NotSent => Tone.Fault,
            _ => Tone.Warning,
        };
        page.Paragraph(ExplainNarrator.Sentence(explanation, clock.Time), tone: tone);
        CutText.Write(page, run.Survey);
        SenderWords words = new(explanation.Senders.Select(view => view.Sender));
        foreach (PutOutView put in explanation.PutOut)
        {
            page.Blank();
            string receiver = put.Condition == WinCondition.Always ? "as receivers put them out" : SlotNarrator.Receiver(put.Condition, HasAddressPriority(explanation));
            page.Heading($"Slots of {unit.Unit} at {clock.Time(explanation.At)}, {receiver}");
            Slots(page, unit, put.Of, perPage, clock);
        }

        SenderView[] shown = explanation.PutOut.Count > 0 ? [] : [.. explanation.InCharge.Take(MostSenders)];
        shown = shown.Length > 0 || explanation.PutOut.Count > 0 ? shown : [.. explanation.Senders.Take(1)];
        foreach (SenderView view in shown)
        {
            page.Blank();
            page.Heading($"Slots of {unit.Unit} at {clock.Time(explanation.At)}" + (shown.Length > 1 || !view.InCharge ? $" from {words[view.Sender.Index]}" : ""));
            Slots(page, unit, view, perPage, clock);
        }

        Winners(page, explanation, words, clock);
        page.Blank();
        page.Heading("Who sends");
        foreach (SenderView view in explanation.Senders.Take(MostSenders))
        {
            string priority = view.Priority >= 0 ? $", priority {view.Priority.ToString(CultureInfo.InvariantCulture)}" : "";
            page.Paragraph($"{words[view.Sender.Index]}: {(view.InCharge ? "in charge" + priority : "not in charge")}, last heard {clock.Time(view.Last)}; by it the unit is {State(view.State)}", indent: 2);
        }

        if (explanation.Senders.Count == 0)
        {
            page.Paragraph("nobody", indent: 2);
        }

        page.Blank();
        page.Heading("Evidence");
        page.Paragraph($"{unit.Unit} is a '{unit.Type}' in mode '{unit.Mode}' at {unit.Universe}.{unit.Address:000}{(explanation.Universe is { } wire ? $", on the wire {wire.Label}" : "")}", indent: 2);
        page.Paragraph("sheet read as: " + RecognitionText.InOneLine(sheet), indent: 2);
        if (run.Survey is { First: { } first, Last: { } last })
        {
            page.Paragraph($"capture: {clock.Span(first, last)}; what changed before it is not known", indent: 2);
        }

        page.Paragraph("this is what the unit is told; a light that differs has another address or mode (locate), or a fault of its own", indent: 2);
    }

    private static bool HasAddressPriority(Explanation explanation) => explanation.Winners.Any(answer => answer.Contenders.Any(each => each.AddressPriority >= 0));

    // Slots beside each other that the same senders decide are one line.
    private static void Winners(TextPage page, Explanation explanation, SenderWords words, WallClock clock)
    {
        IReadOnlyList<SlotAnswer> winners = explanation.Winners;
        if (winners.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Who decides each slot");
        SlotNarrator narrator = new(sender => words[sender], clock.Time);
        bool hasAddressPriority = HasAddressPriority(explanation);
        string Said(SlotAnswer answer) => string.Join("; ", answer.Cases
            .Where(each => each.Condition != WinCondition.WithoutSynchronization)
            .Select(each => (each.Condition == WinCondition.Always ? "" : SlotNarrator.Receiver(each.Condition, hasAddressPriority) + ": ") + narrator.Who(each, answer.Contenders)));
        int from = 0;
        for (int i = 1; i <= winners.Count; i++)
        {
            if (i == winners.Count || Said(winners[i]) != Said(winners[from]))
            {
                int universe = explanation.Unit.Universe;
                string range = string.Create(CultureInfo.InvariantCulture, $"{universe}.{winners[from].Slot:000}")
                    + (i - from > 1 ? string.Create(CultureInfo.InvariantCulture, $" to {universe}.{winners[i - 1].Slot:000}") : "");
                page.Labelled(range, Said(winners[from]), 0);
                from = i;
            }
        }

        if (narrator.Synchronization(winners[0]) is { Length: > 0 } held)
        {
            page.Paragraph(held, indent: 2);
        }
    }

    private static void Slots(TextPage page, PatchUnit unit, SenderView view, int? perPage, WallClock clock)
    {
        List<string> headers = ["slot", "address", "function", "value", "means", "last changed"];
        if (perPage is not null)
        {
            headers.Add("page/fader");
        }

        page.Table(headers, FigureColumns, view.Slots.Select(slot =>
        {
            List<string> cells =
            [
                slot.Slot.ToString(CultureInfo.InvariantCulture),
                string.Create(CultureInfo.InvariantCulture, $"{unit.Universe}.{slot.Address:000}"),
                slot.Chart?.Function ?? "not on the chart",
                slot.Value < 0 ? "-" : slot.Value.ToString(CultureInfo.InvariantCulture),
                slot.Value < 0 ? "not sent" : Meaning(slot),
                Changed(slot, clock),
            ];
            if (perPage is int faders)
            {
                cells.Add(string.Create(CultureInfo.InvariantCulture, $"{((slot.Address - 1) / faders) + 1}/{((slot.Address - 1) % faders) + 1}"));
            }

            return cells;
        }));
    }

    /// <summary>What a value means by the chart.</summary>
    public static string Meaning(SlotState slot) => slot.Range is null ? "unknown"
        : slot.Range.Effect == Fixtures.Charts.RangeEffect.Proportional
            ? string.Create(CultureInfo.InvariantCulture, $"{100.0 * (slot.Value - slot.Range.From) / Math.Max(1, slot.Range.To - slot.Range.From):0} % of {(slot.Range.Meaning.Length > 0 ? slot.Range.Meaning : "the range")}")
            : slot.Range.Meaning;

    private static string Changed(SlotState slot, WallClock clock) => slot.Changed is { } changed
        ? string.Create(CultureInfo.InvariantCulture, $"{clock.Time(changed)} from {slot.Previous}")
        : slot.Value < 0 ? "" : "never in the capture";

    private static string State(UnitState state) => state switch
    {
        UnitState.NotSent => "not reached",
        UnitState.NotPredictable => "not predictable",
        UnitState.Dark => "dark",
        UnitState.NoLight => "without light",
        UnitState.Flashing => "flashing",
        _ => "lit",
    };
}
