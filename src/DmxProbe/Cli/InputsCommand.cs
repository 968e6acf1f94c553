using System.CommandLine;

using DmxProbe.Capture.Live;
using DmxProbe.Capture.Serial;
using DmxProbe.Cli.Text;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>inputs</c>: what this computer can listen to.</summary>
internal static class InputsCommand
{
    private const string NetMeasures = "arrival of broadcasts, of what is sent to this computer and of joined sACN groups; not break, mark after break or bit time";

    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        ProbeCommand command = new("inputs", "What this computer can listen to: interfaces and ports, what each can measure, which is in use. Opens and sends nothing.")
        {
            Examples = [("dmxprobe inputs", "then type one of its words as INPUT: dmxprobe survey net --for 10s")],
            ExitCodes = [(ExitCode.Clean, "always"), (ExitCode.CouldNotRun, "could not run")],
        };
        command.SetAction(parsed =>
        {
            IReadOnlyList<InputListing> inputs = All();
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => InputsJson.Write(stream, inputs));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                InputsText.Write(page, inputs);
                page.WriteTo(host.Output);
            }

            return ExitCode.Clean;
        });
        return command;
    }

    private static List<InputListing> All()
    {
        string taken = LightingPorts.NetInUse();
        string missing = LightingPorts.NicMissing();
        List<InputListing> inputs = [];
        foreach (InterfaceInfo each in InterfaceList.Read())
        {
            string[] addresses = [.. each.Addresses.Select(address => address.ToString())];
            double? speed = each.LinkBitsPerSecond / 1e6;
            if ((each.Ipv4 ?? each.Ipv6) is System.Net.IPAddress address)
            {
                inputs.Add(new InputListing(
                    $"net:{address}", "network", each.Name, "", addresses, each.IsUp, each.IsWireless, speed, NetMeasures, taken));
            }

            inputs.Add(new InputListing(
                $"nic:{each.Name}",
                "network",
                each.Name,
                "",
                addresses,
                each.IsUp,
                each.IsWireless,
                speed,
                "arrival of everything that passes, also what is sent to others (at a mirror port); needs privilege; not break, mark after break or bit time",
                missing));
        }

        foreach (SerialPortInfo port in SerialPortList.Read())
        {
            string name = port.StableName.Length > 0 ? port.StableName : port.Name;
            inputs.Add(new InputListing($"framed:{name}", "serial", port.Name, port.Description, [], null, null, null, SerialSource.FramedMeasures, ""));
            inputs.Add(new InputListing($"uart:{name}", "serial", port.Name, port.Description, [], null, null, null, SerialSource.UartMeasures, ""));
        }

        return inputs;
    }
}
