using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

using DmxProbe.Reporting.Metrics;

namespace DmxProbe.Cli.Metrics;

/// <summary>
/// Answers GET /metrics with the page as it is now, and nothing else. Four connections at a time, a second for each, one request a
/// connection, at most 4 KiB of it: whoever asks more is cut off.
/// </summary>
internal sealed class MetricsServer : IDisposable
{
    private const int MostConnections = 4;
    private const int LongestRequest = 4096;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);
    private readonly TimeSpan _patience;
    private readonly TcpListener _listener;
    private readonly Func<string> _page;
    private readonly CancellationTokenSource _stop = new();
    private readonly SemaphoreSlim _free = new(MostConnections);
    private readonly Task _accepting;

    /// <summary>Begins to listen.</summary>
    /// <param name="address">Where.</param>
    /// <param name="page">Makes the page; called on other threads.</param>
    /// <param name="patience">How long a connection may take; null: a second.</param>
    /// <exception cref="UsageException">The port is taken or may not be opened.</exception>
    public MetricsServer(IPEndPoint address, Func<string> page, TimeSpan? patience = null)
    {
        _page = page;
        _patience = patience ?? Patience;
        _listener = new TcpListener(address);
        try
        {
            _listener.Start(MostConnections);
        }
        catch (SocketException refused)
        {
            _listener.Dispose();
            throw new UsageException($"--metrics: {address} cannot be listened on: {refused.Message}; choose another port, or end what uses it");
        }

        Address = (IPEndPoint)_listener.LocalEndpoint;
        _accepting = Task.Run(Accept);
    }

    /// <summary>Where it listens.</summary>
    public IPEndPoint Address { get; }

    /// <summary>Reads ADDRESS: a port (<c>9600</c>, then on this computer only), or address and port (<c>192.0.2.5:9600</c>, <c>[::1]:9600</c>).</summary>
    /// <exception cref="UsageException">It is none.</exception>
    public static IPEndPoint Parse(string text)
    {
        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int port))
        {
            return port is >= 1 and <= IPEndPoint.MaxPort ? new IPEndPoint(IPAddress.Loopback, port) : throw Refused(text);
        }

        string host = text.StartsWith("localhost:", StringComparison.OrdinalIgnoreCase) ? "127.0.0.1" + text["localhost".Length..] : text;
        int colon = host.LastIndexOf(':');
        bool hasPort = colon > 0 && int.TryParse(host[(colon + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out port) && port is >= 1 and <= IPEndPoint.MaxPort;
        bool isBare6 = host.Count(character => character == ':') > 1 && host[0] != '[';
        return hasPort && !isBare6 && IPEndPoint.TryParse(host, out IPEndPoint? address) ? address : throw Refused(text);
    }

    /// <summary>What to say where others than this computer can ask; null where they cannot.</summary>
    public static string? Warning(IPEndPoint address) => IPAddress.IsLoopback(address.Address)
        ? null
        : $"metrics can be read by everybody who reaches {address}: names of senders and universes, and what is wrong. There is no password. Keep it on a network you trust";

    /// <inheritdoc/>
    public void Dispose()
    {
        _stop.Cancel();
        _listener.Stop();
        try
        {
            _accepting.Wait(Patience);
        }
        catch (AggregateException)
        {
            // It ended with the listener.
        }

        _listener.Dispose();
    }

    private static UsageException Refused(string text) =>
        new($"--metrics: expected a port (9600: this computer only) or an address of this computer and a port (192.0.2.5:9600), found '{text}'");

    private async Task Accept()
    {
        while (!_stop.IsCancellationRequested)
        {
            try
            {
                TcpClient client = await _listener.AcceptTcpClientAsync(_stop.Token).ConfigureAwait(false);
                if (!_free.Wait(0))
                {
                    client.Close(); // four are being answered: the fifth asks again
                    continue;
                }

                _ = Answer(client);
            }
            catch (Exception ended) when (ended is OperationCanceledException or ObjectDisposedException)
            {
                return;
            }
            catch (SocketException)
            {
                // Whoever asked has gone.
            }
        }
    }

    private async Task Answer(TcpClient client)
    {
        try
        {
            using (client)
            using (CancellationTokenSource patience = CancellationTokenSource.CreateLinkedTokenSource(_stop.Token))
            {
                patience.CancelAfter(_patience);
                NetworkStream stream = client.GetStream();
                await stream.WriteAsync(Reply(await Request(stream, patience.Token).ConfigureAwait(false)), patience.Token).ConfigureAwait(false);
                client.Client.Shutdown(SocketShutdown.Send);
            }
        }
        catch (Exception gone) when (gone is IOException or SocketException or OperationCanceledException or ObjectDisposedException)
        {
            // Too slow, or gone: nothing to say to it.
        }
        finally
        {
            _free.Release();
        }
    }

    // The first line, once the head of the request is whole; empty where it is too long.
    private static async Task<string> Request(NetworkStream stream, CancellationToken patience)
    {
        byte[] octets = new byte[LongestRequest];
        int count = 0;
        while (count < octets.Length)
        {
            int read = await stream.ReadAsync(octets.AsMemory(count), patience).ConfigureAwait(false);
            count += read;
            if (read == 0 || octets.AsSpan(0, count).IndexOf("\r\n\r\n"u8) >= 0)
            {
                int end = octets.AsSpan(0, count).IndexOf("\r\n"u8);
                return end < 0 ? "" : Encoding.Latin1.GetString(octets, 0, end);
            }
        }

        return "";
    }

    private byte[] Reply(string request)
    {
        string[] words = request.Split(' ');
        bool isHttp = words.Length == 3 && words[2].StartsWith("HTTP/1.", StringComparison.Ordinal);
        string path = isHttp ? words[1].Split('?')[0] : "";
        return !isHttp ? Page("400 Bad Request", "text/plain; charset=utf-8", "expected GET /metrics\n")
            : words[0] != "GET" ? Page("405 Method Not Allowed", "text/plain; charset=utf-8", "only GET\n", "Allow: GET\r\n")
            : path is "/metrics" or "/" ? Page("200 OK", MetricsPage.ContentType, _page())
            : Page("404 Not Found", "text/plain; charset=utf-8", "expected GET /metrics\n");
    }

    private static byte[] Page(string status, string type, string body, string more = "")
    {
        byte[] octets = Encoding.UTF8.GetBytes(body);
        byte[] head = Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture,
            $"HTTP/1.1 {status}\r\nContent-Type: {type}\r\nContent-Length: {octets.Length}\r\nCache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\nConnection: close\r\n{more}\r\n"));
        return [.. head, .. octets];
    }
}
