using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;

using DmxProbe.Cli;
using DmxProbe.Cli.Metrics;
using DmxProbe.Reporting.Metrics;

namespace DmxProbe.Tests.Cli.Metrics;

public sealed class MetricsServerTests : IDisposable
{
    private readonly MetricsServer _server = new(new IPEndPoint(IPAddress.Loopback, 0), () => "a 1\n# EOF\n");

    public void Dispose() => _server.Dispose();

    [Fact]
    public async Task A_scrape_is_answered_with_the_page_and_its_type()
    {
        using HttpClient client = new();
        using HttpResponseMessage answer = await client.GetAsync(new Uri($"http://{_server.Address}/metrics"));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(MetricsPage.ContentType, answer.Content.Headers.ContentType!.ToString());
        Assert.Equal("a 1\n# EOF\n", await answer.Content.ReadAsStringAsync());
    }

    [Theory]
    [InlineData("POST /metrics HTTP/1.1\r\n\r\n", "405")]
    [InlineData("HEAD /metrics HTTP/1.1\r\n\r\n", "405")]
    [InlineData("GET /../../etc/passwd HTTP/1.1\r\n\r\n", "404")]
    [InlineData("GET /metrics\r\n\r\n", "400")]
    [InlineData("\0\u0001\u0002\r\n\r\n", "400")]
    [InlineData("GET /metrics?x=1 HTTP/1.0\r\n\r\n", "200")]
    public void Anything_but_a_GET_of_the_page_is_refused(string request, string status) =>
        Assert.StartsWith("HTTP/1.1 " + status, Ask(request), StringComparison.Ordinal);

    [Fact]
    public void A_request_without_an_end_is_cut_off_after_a_second_and_one_too_long_at_once()
    {
        Stopwatch watch = Stopwatch.StartNew();
        Assert.Equal("", Ask("GET /metrics HTTP/1.1\r\nX: "));
        Assert.InRange(watch.ElapsedMilliseconds, 500, 8_000);
        Assert.DoesNotContain(" 200 ", Ask("GET /metrics HTTP/1.1\r\nX: " + new string('x', 10_000)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_fifth_connection_is_closed_at_once_while_four_are_answered()
    {
        using MetricsServer patient = new(new IPEndPoint(IPAddress.Loopback, 0), () => "a 1\n# EOF\n", TimeSpan.FromMinutes(5));
        TcpClient[] idle = [.. Enumerable.Range(0, 4).Select(_ => Connect(patient))];
        try
        {
            Stopwatch watch = Stopwatch.StartNew();
            Assert.Equal("", Ask("GET /metrics HTTP/1.1\r\n\r\n", patient));
            Assert.InRange(watch.ElapsedMilliseconds, 0, 60_000); // far from the five minutes that the four have
            idle[0].Dispose();
            Assert.StartsWith("HTTP/1.1 200", UntilAnswered(patient), StringComparison.Ordinal);
        }
        finally
        {
            Array.ForEach(idle, client => client.Dispose());
        }
    }

    [Fact]
    public void Four_that_say_nothing_do_not_keep_it_for_longer_than_a_second()
    {
        TcpClient[] idle = [.. Enumerable.Range(0, 4).Select(_ => Connect(_server))];
        try
        {
            Assert.StartsWith("HTTP/1.1 200", UntilAnswered(_server), StringComparison.Ordinal);
        }
        finally
        {
            Array.ForEach(idle, client => client.Dispose());
        }
    }

    [Fact]
    public void A_page_that_is_read_slowly_ends_after_a_second()
    {
        using MetricsServer large = new(new IPEndPoint(IPAddress.Loopback, 0), () => new string('x', 64_000_000));
        using TcpClient client = Connect(large);
        client.GetStream().Write("GET /metrics HTTP/1.1\r\n\r\n"u8);
        Thread.Sleep(4_000);
        byte[] room = new byte[1 << 20];
        long read = 0;
        try
        {
            for (int count; (count = client.GetStream().Read(room)) > 0;)
            {
                read += count;
            }
        }
        catch (IOException)
        {
            // Reset: what was left in the pipe is gone too.
        }

        Assert.InRange(read, 0, 63_999_999);
    }

    [Fact]
    public void A_port_that_is_taken_is_refused_in_one_sentence() =>
        Assert.Contains("cannot be listened on", Assert.Throws<UsageException>(() => new MetricsServer(_server.Address, () => "")).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("9600", "127.0.0.1:9600")]
    [InlineData("localhost:9600", "127.0.0.1:9600")]
    [InlineData("192.0.2.5:9600", "192.0.2.5:9600")]
    [InlineData("[::1]:9600", "[::1]:9600")]
    [InlineData("0.0.0.0:9600", "0.0.0.0:9600")]
    public void An_address_is_a_port_or_an_address_with_a_port(string text, string address) => Assert.Equal(address, MetricsServer.Parse(text).ToString());

    [Theory]
    [InlineData("")]
    [InlineData("0")]
    [InlineData("-1")]
    [InlineData("65536")]
    [InlineData("192.0.2.5")]
    [InlineData("::1:9600")]
    [InlineData("example.org:9600")]
    [InlineData("192.0.2.5:99999")]
    public void What_is_no_address_is_refused(string text) => Assert.Contains("expected a port", Assert.Throws<UsageException>(() => MetricsServer.Parse(text)).Message, StringComparison.Ordinal);

    [Fact]
    public void Others_than_this_computer_are_warned_of()
    {
        Assert.Null(MetricsServer.Warning(MetricsServer.Parse("9600")));
        Assert.Null(MetricsServer.Warning(MetricsServer.Parse("[::1]:9600")));
        Assert.Contains("no password", MetricsServer.Warning(MetricsServer.Parse("0.0.0.0:9600")), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("captures/harbour-hall/soundcheck.pcapng --metrics 9600", "goes with --plain")]
    [InlineData("captures/harbour-hall/soundcheck.pcapng --plain --metrics nowhere", "expected a port")]
    public void Metrics_that_cannot_be_served_are_refused(string options, string sentence) =>
        Assert.Contains(sentence, ProgramRun.Of(["watch", .. options.Split(' ')]).Refusal(), StringComparison.Ordinal);

    private static TcpClient Connect(MetricsServer server)
    {
        TcpClient client = new() { ReceiveTimeout = 120_000 };
        client.Connect(server.Address);
        return client;
    }

    private static string UntilAnswered(MetricsServer server)
    {
        string answer = "";
        for (int attempt = 0; attempt < 100 && answer.Length == 0; attempt++)
        {
            Thread.Sleep(100);
            answer = Ask("GET /metrics HTTP/1.1\r\n\r\n", server);
        }

        return answer;
    }

    private string Ask(string request) => Ask(request, _server);

    private static string Ask(string request, MetricsServer server)
    {
        using TcpClient client = Connect(server);
        try
        {
            client.GetStream().Write(Encoding.Latin1.GetBytes(request));
            using StreamReader reader = new(client.GetStream(), Encoding.UTF8);
            return reader.ReadToEnd();
        }
        catch (IOException)
        {
            return ""; // cut off
        }
    }
}
