using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Rdm;

namespace DmxProbe.Cli.Text;

/// <summary>RDM devices as text: what they say of themselves, and how that stands against a patch sheet.</summary>
internal static class RdmText
{
    private const int MostSlots = 32;
    private const int MostRemarks = 40;
    private const int LabelWidth = 9;
    private static readonly HashSet<int> FigureColumns = [0, 3, 4, 6, 7];

    /// <summary>Writes the devices and what RDM did on each universe; nothing where there was none.</summary>
    public static void Write(TextPage page, RdmSnapshot? rdm, int most)
    {
        if (rdm is null)
        {
            return;
        }

        page.Blank();
        page.Heading(Figures.Count(rdm.Devices.Count, "RDM device"));
        if (rdm.Devices.Count > 0)
        {
            page.Table(
                ["UID", "label or model", "universe", "start\naddress", "slots", "personality", "asked", "an-\nswered"],
                FigureColumns,
                rdm.Devices.Take(most).Select(device => new[]
                {
                    device.Uid.ToString(),
                    device.Label.Length > 0 ? device.Label : device.Model.Length > 0 ? device.Model : device.ModelId is int model ? string.Create(CultureInfo.InvariantCulture, $"model {model:X4}h") : Figures.None,
                    Short(device.Universe),
                    device.StartAddress switch { null => Figures.None, 0 => "none", int address => address.ToString(CultureInfo.InvariantCulture) },
                    device.Footprint is int slots ? Figures.Count(slots) : Figures.None,
                    Personality(device),
                    Figures.Count(device.Requests),
                    Figures.Count(device.Answers),
                }));
            foreach (RdmDevice device in rdm.Devices.Take(most))
            {
                Parts(page, device);
            }
        }

        More(page, rdm.Devices.Count - most);
        if (rdm.DevicesNotListed > 0)
        {
            page.Paragraph($"and {Figures.Count(rdm.DevicesNotListed, "message")} of devices beyond those kept apart", indent: 2);
        }

        foreach (RdmPort port in rdm.Ports.Take(most))
        {
            page.Paragraph($"{port.Universe.Label}: {Traffic(port)}.", indent: 2);
        }

        More(page, rdm.Ports.Count - most);
    }

    /// <summary>Writes how RDM devices stand against a sheet; nothing where there were none.</summary>
    public static void Sheet(TextPage page, RdmSheetResult? result, bool all)
    {
        if (result is null)
        {
            return;
        }

        page.Blank();
        page.Heading("RDM devices against the sheet");
        page.Paragraph($"{Figures.Count(result.AsTheSheetSays)} of {Figures.Count(result.Compared, "device or part", "devices or parts")} with an address {(result.AsTheSheetSays == 1 ? "stands" : "stand")} where the sheet has a unit of that many slots.", indent: 2);
        foreach ((UniverseId universe, int sheet, bool isTold) in result.Taken.Where(taken => !taken.IsTold))
        {
            page.Paragraph(string.Create(CultureInfo.InvariantCulture, $"{universe.Label} is taken for sheet universe {sheet}, where most of its devices fit."), indent: 2);
        }

        foreach (UniverseId universe in result.NotCompared)
        {
            page.Paragraph($"{universe.Label} is not compared: nothing says which universe of the sheet it is.", indent: 2);
        }

        foreach (RdmRemark remark in result.Remarks.Take(all ? int.MaxValue : MostRemarks))
        {
            (string word, Tone tone) = remark.Severity switch
            {
                Severity.Fault => ("fault", Tone.Fault),
                Severity.Warning => ("warning", Tone.Warning),
                _ => ("note", Tone.Plain),
            };
            page.Labelled(word, remark.Text, LabelWidth, tone: tone);
            if (remark.Action.Length > 0)
            {
                page.Paragraph("Do: " + remark.Action, LabelWidth + 2);
            }
        }

        More(page, all ? 0 : result.Remarks.Count - MostRemarks);
    }

    // The Port-Address stands with the traffic below.
    private static string Short(UniverseId universe) => universe.Label.Split(" = ")[0];

    private static string Personality(RdmDevice device) => device.Personality is not int number ? Figures.None
        : string.Create(CultureInfo.InvariantCulture, $"{number}")
            + (device.PersonalityCount is int count ? string.Create(CultureInfo.InvariantCulture, $" of {count}") : "")
            + (device.PersonalityName.Length > 0 ? $" {device.PersonalityName}" : "");

    private static void Parts(TextPage page, RdmDevice device)
    {
        if (device.SubDevices.Count > 0)
        {
            page.Paragraph(
                $"{device.Uid}: parts "
                    + string.Join(", ", device.SubDevices.Take(MostSlots).Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Number} at {(part.StartAddress == 0 ? "no address" : part.StartAddress)}")))
                    + Rest(device.SubDevices.Count),
                indent: 2);
        }

        if (device.Slots.Count > 0)
        {
            page.Paragraph(
                $"{device.Uid}: slots "
                    + string.Join(", ", device.Slots.Take(MostSlots).Select(slot => string.Create(CultureInfo.InvariantCulture, $"{slot.Number} {Described(slot)}")))
                    + Rest(device.Slots.Count),
                indent: 2);
        }
    }

    private static string Described(RdmSlot slot) => (slot.Name.Length > 0, slot.Kind.Length > 0) switch
    {
        (true, true) => $"{slot.Name} ({slot.Kind})",
        (true, false) => slot.Name,
        _ => slot.Kind,
    };

    private static string Rest(int count) => count > MostSlots ? string.Create(CultureInfo.InvariantCulture, $" and {count - MostSlots} more") : "";

    private static string Traffic(RdmPort port)
    {
        List<string> parts = [Figures.Count(port.Requests, "request"), Figures.Count(port.Answers, "answer")];
        Add(port.Broadcasts, "to all");
        Add(port.Discoveries, "searches");
        Add(port.DiscoveryReplies, "whole replies to them");
        Add(port.DiscoveryCollisions, "replies at once, as is normal while searching");
        Add(port.Damaged, "damaged");
        Add(port.Tables, "tables of the gateway");
        if (port.Share is { QuietHz: double quiet, PolledHz: double polled })
        {
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"levels {polled:0.0} times a second beside RDM, {quiet:0.0} times without"));
        }

        return string.Join(", ", parts);

        void Add(long count, string what)
        {
            if (count > 0)
            {
                parts.Add($"{Figures.Count(count)} {what}");
            }
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
