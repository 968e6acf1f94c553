using System.Globalization;

using DmxProbe.Analysis.Arbitration;

namespace DmxProbe.Cli.Text;

/// <summary>The answer of <c>explain --slot</c> as text: who decides the slot and why, who moved it, and every sender of it.</summary>
internal static class SlotText
{
    private const int MostSenders = 12;
    private static readonly HashSet<int> FigureColumns = [1, 2, 3];

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, SlotRun run, WallClock clock)
    {
        if (run.Answer is not SlotAnswer answer)
        {
            page.Paragraph(string.Create(CultureInfo.InvariantCulture, $"{run.Universe.Label} carries no levels up to {clock.Time(run.At)}: nobody sends slot {run.Slot}."), tone: Tone.Fault);
            CutText.Write(page, run.Survey);
            return;
        }

        SenderWords words = new(run.Senders.Values);
        SlotNarrator narrator = new(sender => words[sender], clock.Time);
        page.Paragraph(narrator.Sentence(answer), tone: SlotRun.IsClear(answer) ? Tone.Good : Tone.Fault);
        CutText.Write(page, run.Survey);
        page.Paragraph(narrator.Moved(answer));
        if (narrator.Synchronization(answer) is { Length: > 0 } held)
        {
            page.Paragraph(held, tone: answer.Sync == SyncState.Frozen ? Tone.Fault : Tone.Plain);
        }

        page.Blank();
        page.Heading("Who sends it");
        if (answer.Contenders.Count == 0)
        {
            page.Paragraph("nobody at that time", indent: 2);
        }
        else
        {
            Senders(page, answer, words, clock);
        }

        if (run.Survey is { First: { } first, Last: { } last })
        {
            page.Blank();
            page.Paragraph($"Capture: {clock.Span(first, last)}; what came before it is not known. Rules: docs/arbitration.md.");
        }
    }

    private static void Senders(TextPage page, SlotAnswer answer, SenderWords words, WallClock clock)
    {
        page.Table(
            ["sender", "level", "packet\npriority", "priority of\nthis slot", "last heard", ""],
            FigureColumns,
            answer.Contenders.Take(MostSenders).Select(each => new[]
            {
                words[each.Sender],
                each.Value < 0 ? "not sent" : Figures.Count(each.Value),
                each.PacketPriority < 0 ? Figures.None : Figures.Count(each.PacketPriority),
                each.AddressPriority < 0 ? Figures.None : each.AddressPriority == 0 ? "0, not sourced" : Figures.Count(each.AddressPriority),
                clock.Time(each.Last),
                Standing(each, answer),
            }));
        if (answer.Contenders.Count > MostSenders)
        {
            page.Paragraph($"and {Figures.Count(answer.Contenders.Count - MostSenders, "more sender")}", indent: 2);
        }
    }

    private static string Standing(Contender contender, SlotAnswer answer)
    {
        bool inEach = answer.Cases.Where(each => each.Condition != WinCondition.WithoutSynchronization).All(each => each.Senders.Contains(contender.Sender));
        bool inAny = answer.Cases.Any(each => each.Senders.Contains(contender.Sender));
        return contender.LeftOut ? "ignored by the node"
            : inEach && answer.Cases[0].IsDecided ? "decides"
            : inAny ? answer.Cases.Count > 1 ? "decides for some receivers" : "on a par"
            : "";
    }
}
