using System.Net;
using DmxProbe.Capture.Filters;
using DmxProbe.Capture.Pcap;
using DmxProbe.Capture.Serial;
using DmxProbe.Capture.Sockets;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Live;

/// <summary>Opens live inputs by their word on the command line.</summary>
public static class LiveInput
{
    private const string Net = "net";
    private const string Nic = "nic";
    private const string Framed = "framed";
    private const string Uart = "uart";

    /// <summary>Whether a word names a live input; a file of that name is given with its folder, <c>./net</c>.</summary>
    public static bool Names(string input)
    {
        ArgumentNullException.ThrowIfNull(input);
        string word = input.Split(':')[0];
        return word == Net ? input.Length == Net.Length || input.Contains(':', StringComparison.Ordinal)
            : word is Nic or Framed or Uart && input.Length > word.Length;
    }

    /// <summary>Whether a word names the sockets of this computer, <c>net</c> or <c>net:ADDRESS</c>.</summary>
    public static bool NamesNet(string input)
    {
        ArgumentNullException.ThrowIfNull(input);
        return Names(input) && input.Split(':')[0] == Net;
    }

    /// <summary>Opens a live input, read by a thread of its own from now on.</summary>
    /// <param name="input"><c>net</c>, <c>net:ADDRESS</c>, <c>nic:NAME</c>, <c>framed:PORT</c> or <c>uart:PORT</c>.</param>
    /// <param name="settings">How to listen.</param>
    /// <exception cref="InputException">It cannot be listened on; one sentence with the way out.</exception>
    public static ILiveSource Open(string input, LiveSettings settings)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(settings);
        string word = input.Split(':')[0];
        string place = input.Length > word.Length ? input[(word.Length + 1)..] : "";
        if (place.Length == 0 && word is (Nic or Framed or Uart))
        {
            string what = word == Nic ? "interface" : "port";
            throw Refused(input, $"no {what} is named", word == Nic ? "nic:eth0 or the like" : $"{word}:{(OperatingSystem.IsWindows() ? "COM3" : "/dev/ttyUSB0")} or the like", "nothing after the colon", $"dmxprobe inputs lists the {what}s");
        }

        return word switch
        {
            Net => new QueuedSource(OpenNet(input, place, settings), settings.Tell),
            Nic => new QueuedSource(OpenNic(input, place, settings), settings.Tell),
            Framed => new QueuedSource(SerialSource.OpenFramed(place, settings), settings.Tell),
            Uart => new QueuedSource(SerialSource.OpenUart(place, settings), settings.Tell),
            _ => throw Refused(input, $"'{input}' is no live input", "net, net:ADDRESS, nic:NAME, framed:PORT or uart:PORT", "", "see 'dmxprobe inputs'"),
        };
    }

    internal static InputException Refused(string input, string what, string expected, string found, string advice) =>
        new(input, new InputProblem(what, "", expected, found, advice));

    private static HearingSource OpenNic(string input, string place, LiveSettings settings)
    {
        NicSource source = NicSource.Open(input, place, settings, new SteadyClock(settings.Clock, OperatingSystem.IsLinux() ? LinuxNative.Asleep : null));
        return new HearingSource(source, settings, Listening, net: null);

        (IReadOnlyCollection<InterfaceInfo>, IReadOnlyList<InterfaceInfo>) Listening()
        {
            IReadOnlyList<InterfaceInfo> all = settings.ReadInterfaces();
            return ([.. all.Where(each => each.Name == place)], all);
        }
    }

    private static HearingSource OpenNet(string input, string place, LiveSettings settings)
    {
        IPAddress? only = place.Length > 0 ? AddressOf(input, place, settings) : null;
        bool isLinux = OperatingSystem.IsLinux() && nint.Size == sizeof(long) && !settings.Portable;
        SteadyClock clock = new(settings.Clock, isLinux ? LinuxNative.Asleep : null);
        IDatagramReceiver? receiver = null;
        try
        {
            receiver = isLinux ? new LinuxReceiver(clock, settings.ReceiveBuffer) : new PortableReceiver(clock, settings.ReceiveBuffer);
            NetSource source = new(input, settings, only, clock, receiver);
            settings.Tell(Buffer(receiver, settings));
            return new HearingSource(source, settings, () => (source.Watch.Up, source.Watch.All), source)
            {
                Announcer = settings.Announce ? new Announcer(receiver, settings, source.Watch) : null,
            };
        }
        catch (PortTakenException taken)
        {
            throw Refused(
                input,
                $"another program on this computer has UDP port {taken.Port}{PortOwner.Of(taken.Port)}, and sharing the port would take its packets away",
                "",
                "",
                "end that program, or listen with nic:NAME, which shares nothing");
        }
        catch (IOException refused)
        {
            throw Refused(input, refused.Message, "", "", "");
        }
        catch
        {
            receiver?.Dispose();
            throw;
        }
    }

    private static LiveNotice Buffer(IDatagramReceiver receiver, LiveSettings settings)
    {
        string granted = FormattableString.Invariant($"{receiver.GrantedBuffer:N0}");
        string counted = receiver.CountsDrops ? "the system counts what does not fit" : "this system does not count what does not fit";
        return receiver.GrantedBuffer < settings.ReceiveBuffer
            ? new LiveNotice(
                "buffer-small",
                false,
                FormattableString.Invariant($"the system granted a receive buffer of {granted} octets a socket where {settings.ReceiveBuffer:N0} were asked; {counted}"))
            : new LiveNotice("buffer", false, $"receive buffer of {granted} octets a socket; {counted}");
    }

    private static IPAddress AddressOf(string input, string place, LiveSettings settings)
    {
        IReadOnlyList<InterfaceInfo> all = settings.ReadInterfaces();
        InterfaceInfo? named = all.FirstOrDefault(each => each.Name == place);
        string known = string.Join(", ", all.SelectMany(each => each.Addresses).Select(each => each.Address.ToString()));
        if (!IPAddress.TryParse(place.Trim('[', ']'), out IPAddress? address))
        {
            throw Refused(
                input,
                "this is no address of an interface",
                named is { Addresses.Count: > 0 } ? $"net:{named.Ipv4 ?? named.Addresses[0].Address} for {named.Name}" : "one of " + known,
                $"'{place}'",
                "'dmxprobe inputs' lists them");
        }

        if (!all.Any(each => each.Addresses.Any(own => own.Address.Equals(address))))
        {
            throw Refused(input, $"no interface of this computer has the address {address}", "one of " + known, "", "'dmxprobe inputs' lists them");
        }

        return address;
    }
}
