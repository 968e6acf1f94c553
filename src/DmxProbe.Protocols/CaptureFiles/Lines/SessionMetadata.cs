using System.Globalization;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>What the member <c>metadata</c> of a session says about its first device with samples (standards-facts F2).</summary>
internal sealed class SessionMetadata
{
    /// <summary>Start of the names of the members with samples.</summary>
    public string CaptureFile { get; private set; } = "";

    /// <summary>Samples per second; 0 where it is not said.</summary>
    public long Rate { get; private set; }

    /// <summary>The rate as the file writes it; untrusted text.</summary>
    public string RateText { get; private set; } = "";

    /// <summary>Octets of a sample; 0 where it is not said.</summary>
    public int Unit { get; private set; }

    /// <summary>Lines that were recorded.</summary>
    public int Probes { get; private set; }

    /// <summary>Analog channels, which are not read.</summary>
    public int Analog { get; private set; }

    /// <summary>Names of lines by their bit, counted from 0; untrusted text.</summary>
    public SortedDictionary<int, string> Names { get; } = [];

    /// <summary>Devices with samples after the first, which are not read.</summary>
    public int OtherDevices { get; private set; }

    /// <summary>Reads the text; lines that say nothing known are stepped over.</summary>
    public static SessionMetadata Parse(string text)
    {
        SessionMetadata metadata = new();
        bool inDevice = false;
        int devices = 0;
        foreach (string line in text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (line[0] == '[')
            {
                inDevice = line.StartsWith("[device ", StringComparison.Ordinal);
                devices += inDevice ? 1 : 0;
                continue;
            }

            int equals = line.IndexOf('=', StringComparison.Ordinal);
            if (inDevice && equals > 0)
            {
                metadata.Take(line[..equals].Trim(), line[(equals + 1)..].Trim(), devices == 1 || metadata.CaptureFile.Length == 0);
            }
        }

        return metadata;
    }

    private void Take(string key, string value, bool isFirst)
    {
        if (!isFirst)
        {
            OtherDevices += key == "capturefile" ? 1 : 0;
            return;
        }

        switch (key)
        {
            case "capturefile":
                CaptureFile = value;
                break;
            case "samplerate":
                RateText = value;
                Rate = Rates.TryParse(value, out long rate) ? rate : 0;
                break;
            case "unitsize":
                Unit = Number(value);
                break;
            case "total probes":
                Probes = Number(value);
                break;
            case "total analog":
                Analog = Number(value);
                break;
            default:
                if (key.StartsWith("probe", StringComparison.Ordinal) && Number(key["probe".Length..]) is > 0 and <= LineSource.MostChannels and int probe)
                {
                    Names[probe - 1] = value;
                }

                break;
        }
    }

    private static int Number(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : 0;
}
