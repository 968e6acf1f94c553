using System.Globalization;

namespace DmxProbe.Protocols.Serial;

/// <summary>
/// Which framed messages carry DMX and how. The labels and layouts are from memory, not from a published document: where an
/// interface does it differently, they are set by hand.
/// </summary>
public sealed record FramedOptions
{
    /// <summary>What is used when nobody says otherwise.</summary>
    public static FramedOptions Usual { get; } = new();

    /// <summary>Label of a message that holds a received packet: status octets, then START code and slots. 5, from memory.</summary>
    public int ReceivedLabel { get; init; } = 5;

    /// <summary>Status octets before the START code of a received packet, 0 to 8. 1, from memory: bit 0 overflow, bit 1 overrun.</summary>
    public int StatusOctets { get; init; } = 1;

    /// <summary>Label of a message that holds only what changed; -1 for none. 9, from memory.</summary>
    public int ChangeLabel { get; init; } = 9;

    /// <summary>
    /// True to take slots that were never told as 0 where the interface sends only changes. It is so, from memory, when the
    /// interface was switched to that mode after the listening began; else such messages wait for a whole packet.
    /// </summary>
    public bool ChangesFromZero { get; init; }

    /// <summary>Longest payload believed, in octets; a longer length is a lie or no message. 600, from memory.</summary>
    public int LongestPayload { get; init; } = 600;

    /// <summary>
    /// Reads settings as a person types them: <c>received=6,status=0,change=none,from=zero,longest=600</c>, each at most once, any left out.
    /// </summary>
    /// <param name="text">The settings.</param>
    /// <param name="options">The options.</param>
    /// <param name="problem">What is wrong, as one sentence; empty when all is well.</param>
    public static bool TryParse(string text, out FramedOptions options, out string problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        options = Usual;
        problem = "";
        HashSet<string> seen = new(StringComparer.Ordinal);
        foreach (string part in text.Split(','))
        {
            string[] pair = part.Split('=');
            string name = pair[0].Trim();
            string value = pair.Length == 2 ? pair[1].Trim() : "";
            bool isNone = (name == "change" && value == "none") || (name == "from" && value == "zero");
            int most = name switch { "received" or "change" => 255, "status" => 8, "longest" => 65535, "from" => 0, _ => -1 };
            int number = -1;
            bool isNumber = isNone || int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out number);
            if (most < 0 || !seen.Add(name))
            {
                problem = $"'{part}' is not understood: expected received, status, change, from or longest, each once, as in received=5,status=1,change=9";
                return false;
            }

            if (!isNumber || number > most || (name == "from" && !isNone) || (name == "longest" && number < 1))
            {
                problem = name == "from"
                    ? $"'{part}': expected from=zero"
                    : $"'{part}': expected a whole number up to {most}" + (name == "change" ? " or none" : "");
                return false;
            }

            options = name switch
            {
                "received" => options with { ReceivedLabel = number },
                "status" => options with { StatusOctets = number },
                "change" => options with { ChangeLabel = isNone ? -1 : number },
                "from" => options with { ChangesFromZero = true },
                _ => options with { LongestPayload = number },
            };
        }

        return true;
    }
}
