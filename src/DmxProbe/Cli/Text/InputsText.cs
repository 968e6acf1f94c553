using System.Globalization;

using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli.Text;

/// <summary>The list of inputs for a person.</summary>
internal static class InputsText
{
    /// <summary>Writes it.</summary>
    public static void Write(TextPage page, IReadOnlyList<InputListing> inputs)
    {
        int interfaces = inputs.Where(input => input.Kind == "network").Select(input => input.Name).Distinct().Count();
        int ports = inputs.Where(input => input.Kind == "serial").Select(input => input.Name).Distinct().Count();
        page.Heading($"{Counted(interfaces, "network interface")} and {Counted(ports, "serial port")}. 'net' listens on all interfaces at once.");
        foreach (IGrouping<string, InputListing> place in inputs.GroupBy(input => input.Kind + " " + input.Name))
        {
            page.Blank();
            page.Paragraph(Described(place.First()));
            foreach (InputListing input in place)
            {
                page.Paragraph(input.Word, indent: 2, tone: Tone.Strong);
                page.Paragraph(input.Measures, indent: 4);
                if (input.InUse.Length > 0)
                {
                    page.Paragraph("Not now: " + input.InUse, indent: 4, tone: Tone.Warning);
                }
            }
        }
    }

    private static string Described(InputListing input)
    {
        List<string> parts = [input.Name + (input.Description.Length > 0 ? $" ({input.Description})" : "")];
        if (input.Kind == "network")
        {
            parts.Add(input.IsUp == true ? "has a link" : "no link");
            parts.Add(input.IsWireless == true ? "wireless: nothing is joined through it unless --join-on-wireless" : "wired");
            parts.Add(input.LinkMbitPerSecond is double speed ? speed.ToString("0.#", CultureInfo.InvariantCulture) + " Mbit/s" : "link speed not known");
            parts.Add(input.Addresses.Count > 0 ? string.Join(", ", input.Addresses) : "no address");
        }

        return string.Join("; ", parts);
    }

    private static string Counted(int count, string what) => $"{count} {what}{(count == 1 ? "" : "s")}";
}
