using System.Net;
using DmxProbe.Capture.Live;

namespace DmxProbe.Capture.Sockets;

/// <summary>Which interfaces are listened on, and which of them are down just now; says so once each time. Used by one thread.</summary>
internal sealed class InterfaceWatch(LiveSettings settings, IPAddress? only)
{
    private readonly Dictionary<string, InterfaceInfo> _up = new(StringComparer.Ordinal);
    private readonly Dictionary<string, InterfaceInfo> _down = new(StringComparer.Ordinal);
    private string? _onlyName;

    /// <summary>Interfaces listened on that have a link.</summary>
    public IReadOnlyCollection<InterfaceInfo> Up => _up.Values;

    /// <summary>Interfaces listened on before that have no link now, or are gone.</summary>
    public IReadOnlyCollection<InterfaceInfo> Down => _down.Values;

    /// <summary>Everything the computer has, as last read.</summary>
    public IReadOnlyList<InterfaceInfo> All { get; private set; } = [];

    /// <summary>Called with an interface that went down; its groups are still joined unless it is gone.</summary>
    public Action<InterfaceInfo, bool>? WentDown { get; set; }

    /// <summary>Called with an interface that came, or came back.</summary>
    public Action<InterfaceInfo, bool>? CameUp { get; set; }

    /// <summary>Looks at the computer's interfaces.</summary>
    public void Look()
    {
        All = settings.ReadInterfaces();
        foreach (InterfaceInfo was in _up.Values.ToList())
        {
            InterfaceInfo? now = All.FirstOrDefault(each => each.Name == was.Name);
            if (now is null || now.Index != was.Index || !IsListenedOn(now))
            {
                bool isGone = now is null || now.Index != was.Index;
                _up.Remove(was.Name);
                _down[was.Name] = was;
                WentDown?.Invoke(was, isGone);
                settings.Tell(new LiveNotice(
                    "interface-down",
                    true,
                    $"{was.Described} {(now is null ? "is gone" : "has no link")}: nothing is heard there until it is back, and what is missing until then is not the network's fault"));
            }
            else
            {
                _up[was.Name] = now;
            }
        }

        foreach (InterfaceInfo now in All.Where(each => IsListenedOn(each) && !_up.ContainsKey(each.Name)))
        {
            _up.Add(now.Name, now);
            bool isBack = _down.Remove(now.Name);
            _onlyName ??= only is null ? null : now.Name;
            if (isBack)
            {
                settings.Tell(new LiveNotice("interface-up", false, $"{now.Described} is back"));
            }

            CameUp?.Invoke(now, isBack);
        }
    }

    private bool IsListenedOn(InterfaceInfo each) => each.IsUp && (only is null
        ? !each.IsLoopback && each.Addresses.Count > 0
        : each.Addresses.Any(address => address.Address.Equals(only)) || (each.Name == _onlyName && each.Addresses.Count > 0));
}
