using System.Globalization;

using DmxProbe.Analysis.Arbitration;

namespace DmxProbe.Cli.Text;

/// <summary>The answers of <c>explain --slot</c> about several slots or times: time, slot, level, winner, reason.</summary>
internal static class SlotTableText
{
    private static readonly HashSet<int> FigureColumns = [0, 1, 3];

    /// <summary>Writes the answers.</summary>
    public static void Write(TextPage page, SlotTableRun run, WallClock clock)
    {
        SenderWords words = new(run.Senders.Values);
        SlotNarrator narrator = new(sender => words[sender], clock.Time);
        page.Paragraph(Verdict(run), tone: run.Unanswered.Count == 0 && run.Answers.All(SlotRun.IsClear) ? Tone.Good : Tone.Fault);
        CutText.Write(page, run.Survey);
        foreach (var universe in run.Answers.GroupBy(answer => answer.Universe))
        {
            page.Blank();
            page.Heading(universe.Key.Label);
            page.Table(["time", "slot", "receiver", "level", "winner", "reason"], FigureColumns, universe.SelectMany(answer => Rows(answer, narrator, clock)));
        }

        if (run.Unanswered.Count > 0)
        {
            page.Blank();
            page.Heading("Nobody had sent");
            foreach (var each in run.Unanswered)
            {
                page.Paragraph(
                    string.Create(CultureInfo.InvariantCulture, $"{clock.Time(each.At)}  {each.Universe.Label} slot {each.FromSlot}{(each.ToSlot > each.FromSlot ? $" to {each.ToSlot}" : "")}: no levels up to then"),
                    indent: 2);
            }
        }

        Legend(page, run);
        if (run.Survey is { First: { } first, Last: { } last })
        {
            page.Blank();
            page.Paragraph($"Capture: {clock.Span(first, last)}; what came before it is not known. Rules: docs/arbitration.md.");
        }
    }

    private static string Verdict(SlotTableRun run)
    {
        int differ = run.Answers.Count(answer => answer.Cases.Count(each => each.Condition != WinCondition.WithoutSynchronization) > 1);
        int open = run.Answers.Count(answer => !SlotRun.IsClear(answer)) + run.Unanswered.Sum(each => each.ToSlot - each.FromSlot + 1);
        int all = run.Answers.Count + run.Unanswered.Sum(each => each.ToSlot - each.FromSlot + 1);
        string depends = differ == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"; {differ} of them {(differ == 1 ? "depends" : "depend")} on the receiver");
        return open == 0
            ? string.Create(CultureInfo.InvariantCulture, $"All {all} answers are decided{depends}.")
            : string.Create(CultureInfo.InvariantCulture, $"{open} of {all} answers name nobody, a frozen universe, or senders on a par{depends}.");
    }

    private static IEnumerable<string[]> Rows(SlotAnswer answer, SlotNarrator narrator, WallClock clock)
    {
        bool first = true;
        foreach (SlotCase found in answer.Cases)
        {
            string held = !first ? "" : answer.Sync switch
            {
                SyncState.Held => "; held until the next synchronization packet",
                SyncState.Frozen => "; frozen, no synchronization packet comes",
                _ => "",
            };
            bool isOver = found.Rule is WinRule.Nobody or WinRule.NotSent && found.Value >= 0;
            string last = isOver ? string.Create(CultureInfo.InvariantCulture, $"; the last level was {found.Value}") : "";
            yield return
            [
                first ? clock.Time(answer.At) : "",
                first ? answer.Slot.ToString(CultureInfo.InvariantCulture) : "",
                Receiver(found.Condition),
                isOver ? Figures.None : found.Value < 0 ? "?" : Figures.Count(found.Value),
                narrator.Names(found.Senders),
                SlotNarrator.Why(found, answer.Contenders) + last + held,
            ];
            first = false;
        }
    }

    private static string Receiver(WinCondition condition) => condition switch
    {
        WinCondition.SlotBySlot => "by slot",
        WinCondition.WholeUniverse => "by universe",
        WinCondition.HighestValue => "HTP",
        WinCondition.LatestValue => "LTP",
        WinCondition.WithoutSynchronization => "no sync",
        _ => "any",
    };

    // What the short words of the column mean, those that stand there.
    private static void Legend(TextPage page, SlotTableRun run)
    {
        WinCondition[] used = [.. run.Answers.SelectMany(answer => answer.Cases).Select(found => found.Condition).Where(condition => condition != WinCondition.Always).Distinct().Order()];
        if (used.Length > 0)
        {
            bool byAddress = run.Answers.Any(answer => answer.Contenders.Any(each => each.AddressPriority >= 0));
            page.Blank();
            page.Paragraph("Receivers: " + string.Join("; ", used.Select(condition => $"{Receiver(condition)} = {SlotNarrator.Receiver(condition, byAddress)}")) + ".");
        }
    }
}
