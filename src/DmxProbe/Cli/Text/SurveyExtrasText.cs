using System.Globalization;

using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>What stands behind the universes in a survey: nodes, discovery, other traffic, and how whole the inputs are.</summary>
internal static class SurveyExtrasText
{
    private const int MostRows = 16;
    private const int MostRanges = 8;
    private const int ArtNetPort = 6454;

    /// <summary>Writes those sections that have something in them; the inputs always.</summary>
    public static void Write(TextPage page, SurveySnapshot survey, WallClock clock, bool all)
    {
        int most = all ? int.MaxValue : MostRows;
        Nodes(page, survey.Nodes, most);
        Discovery(page, survey.Discovery, most);
        RdmText.Write(page, survey.Rdm, most);
        Other(page, survey, most);
        Marks(page, survey, clock, most);
        Inputs(page, survey.Inputs, clock);
    }

    // A lone 0 reads as "none": the number stands with its net, sub-net and universe.
    private static string Ports(IReadOnlyList<int> addresses) => addresses is [int one]
        ? string.Create(CultureInfo.InvariantCulture, $"{one} ({one >> 8}:{(one >> 4) & 15}:{one & 15})")
        : Figures.Ranges(addresses, MostRanges);

    private static void Nodes(TextPage page, IReadOnlyList<NodeSummary> nodes, int most)
    {
        if (nodes.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading(Figures.Count(nodes.Count, "node") + " answered or announced by ArtPollReply");
        page.Table(
            ["address", "name", "replies", "outputs to\nPort-Address", "inputs"],
            new HashSet<int> { 2 },
            nodes.Take(most).Select(node => new[]
            {
                node.Address,
                node.LongName.Length > 0 ? node.LongName : node.PortName,
                Figures.Count(node.Replies),
                node.Outputs.Count == 0 ? Figures.None : Ports(node.Outputs),
                node.InputsListed.Count == 0 ? Figures.None : Ports(node.InputsListed),
            }));
        foreach (NodeSummary node in nodes.Take(most).Where(node => Remark(node).Length > 0))
        {
            page.Paragraph($"{node.Address}: {Remark(node)}.", indent: 2);
        }

        More(page, nodes.Count - most);
    }

    private static string Remark(NodeSummary node)
    {
        List<string> remarks = [];
        if (node.Merging)
        {
            remarks.Add("an output reports that it merges two senders");
        }

        if (node.StatedPort != ArtNetPort)
        {
            remarks.Add(string.Create(CultureInfo.InvariantCulture, $"states UDP port {node.StatedPort}, not {ArtNetPort}"));
        }

        return string.Join("; ", remarks);
    }

    private static void Discovery(TextPage page, IReadOnlyList<DiscoverySummary> discovery, int most)
    {
        if (discovery.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Universes that sACN sources say they send (universe discovery)");
        SenderWords names = new(discovery.Select(entry => entry.Sender));
        foreach (DiscoverySummary entry in discovery.Take(most))
        {
            string list = entry.Universes.Count == 0 ? "none" : Figures.Ranges(entry.Universes, MostRanges * 2);
            string whole = entry.Complete ? "" : "; a page of its list is missing";
            page.Paragraph($"{names[entry.Sender.Index]}: {list}{whole} ({Figures.Count(entry.Packets, "packet")})", indent: 2);
        }

        More(page, discovery.Count - most);
    }

    private static void Other(TextPage page, SurveySnapshot survey, int most)
    {
        List<string> parts = [];
        Add(parts, survey.ArtPolls, "ArtPoll");
        Add(parts, survey.ArtSyncs, "ArtSync");
        foreach (CountOf code in survey.OtherOpCodes.Take(most))
        {
            Add(parts, code.Count, ArtOpCodes.Name((ArtOpCode)code.Value));
        }

        foreach (CountOf sync in survey.SyncPackets.Take(most))
        {
            Add(parts, sync.Count, string.Create(CultureInfo.InvariantCulture, $"sACN synchronization on address {sync.Value}"));
        }

        if (parts.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Other lighting packets");
        page.Paragraph(string.Join(", ", parts), indent: 2);
        More(page, Math.Max(survey.OtherOpCodes.Count, survey.SyncPackets.Count) - most);
    }

    private static void Add(List<string> parts, long count, string word)
    {
        if (count > 0)
        {
            parts.Add($"{Figures.Count(count)} {word}");
        }
    }

    private static void Marks(TextPage page, SurveySnapshot survey, WallClock clock, int most)
    {
        long count = survey.Marks.Count + survey.MarksNotListed;
        if (count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading(Figures.Count(count, "mark"));
        foreach (MarkSummary mark in survey.Marks.Take(most))
        {
            page.Paragraph($"{clock.Time(mark.Time)}  {mark.Text}", indent: 2);
        }

        More(page, survey.Marks.Count - most);
        if (survey.MarksNotListed > 0)
        {
            page.Paragraph($"and {Figures.Count(survey.MarksNotListed)} further ones, counted and not kept", indent: 2);
        }
    }

    private static void Inputs(TextPage page, IReadOnlyList<InputSummary> inputs, WallClock clock)
    {
        page.Blank();
        page.Heading(inputs.Count == 1 ? "Input" : "Inputs");
        foreach (InputSummary input in inputs)
        {
            List<string> parts = [Figures.Count(input.Records, "record")];
            if (input.First is Timestamp first && input.Last is Timestamp last)
            {
                parts.Add($"{clock.Time(first)} to {clock.Time(last)}");
            }

            Counted(parts, input.OtherTraffic, "of other traffic");
            Counted(parts, input.Malformed, "malformed");
            Counted(parts, input.CutBySnapLength, "cut by the snap length");
            Counted(parts, input.Fragments, "IP fragments");
            Counted(parts, input.LostByCapture, "lost by the capture itself");
            page.Paragraph($"{input.Name}: {string.Join(", ", parts)}", indent: 2);
            foreach (string note in input.Notes)
            {
                page.Paragraph(note, indent: 4);
            }

            if (input.Cut is InputProblem cut)
            {
                page.Paragraph($"ends early: {cut}", indent: 4, tone: Tone.Warning);
            }
        }
    }

    private static void Counted(List<string> parts, long count, string what)
    {
        if (count > 0)
        {
            parts.Add($"{Figures.Count(count)} {what}");
        }
    }

    private static void More(TextPage page, int left)
    {
        if (left > 0)
        {
            page.Paragraph($"and {Figures.Count(left)} more (--all shows all)", indent: 2);
        }
    }
}
