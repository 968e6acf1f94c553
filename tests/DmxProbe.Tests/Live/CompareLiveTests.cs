using System.Net;
using System.Net.Sockets;

using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;
using DmxProbe.Testing.Serial;
using DmxProbe.Testing.Shows;
using DmxProbe.Tests.Cli;

namespace DmxProbe.Tests.Live;

/// <summary>compare with one or both inputs live, through real sockets of the loopback interface and a serial port.</summary>
[Collection("lighting ports")]
public sealed class CompareLiveTests : IDisposable
{
    private static readonly byte[] Cid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-compare-live-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_recorded_night_and_what_is_heard_now_are_compared_in_either_order(bool fileFirst)
    {
        string[] inputs = [LastNight(), "net:127.0.0.1"];
        if (!fileFirst)
        {
            Array.Reverse(inputs);
        }

        ProgramRun run = Listening(step => Look(190), ["compare", .. inputs, "--for", "2s"]);
        Assert.Equal(1, run.Code);
        Assert.StartsWith("Two nights, because their times lie apart", run.Output, StringComparison.Ordinal);
        Assert.Contains(fileFirst ? "sACN 1 slot 5: at 0 last night, 190 tonight" : "sACN 1 slot 5: at 190 last night, 0 tonight", run.Output, StringComparison.Ordinal);
        Assert.Equal(!fileFirst, run.Output.Contains("is later than", StringComparison.Ordinal));
    }

    [SkippableFact]
    public void Ctrl_C_gives_the_result_so_far()
    {
        using CancellationTokenSource pressed = new(TimeSpan.FromSeconds(3));
        ProgramRun run = Listening(step => Look(190), ["compare", LastNight(), "net:127.0.0.1"], pressed.Token);
        Assert.Equal(1, run.Code);
        Assert.Contains("sACN 1 slot 5: at 0 last night, 190 tonight", run.Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void Two_live_inputs_are_heard_at_once_and_compared_as_two_taps()
    {
        using PseudoTerminal? port = PseudoTerminal.TryOpen();
        Skip.If(port is null, PseudoTerminal.NotHere);
        ProgramRun run = Listening(
            step =>
            {
                byte[] slots = Moving(step / 5);
                port.Write(SerialOctets.Received(0, slots));
                return slots;
            },
            ["compare", "net:127.0.0.1", "framed:" + port.Port, "--for", "4s"]);
        Assert.InRange(run.Code, 0, 1); // on a busy machine the sender itself may be held up for longer than a freeze
        Assert.StartsWith("Two taps of one moment, because their times overlap", run.Output, StringComparison.Ordinal);
        Assert.Contains("serial A carries sACN 1 of 'desk'", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("net:127.0.0.1 net:127.0.0.1", "named twice")]
    [InlineData("net:127.0.0.1 framed:/dev/no-such-port", "no-such-port")]
    public void Two_live_inputs_that_do_not_serve_are_refused_at_once(string inputs, string sentence)
    {
        ProgramRun run = ProgramRun.Of(["compare", .. inputs.Split(' '), "--for", "1h"]);
        Assert.Equal(2, run.Code);
        Assert.Contains(sentence, run.Error, StringComparison.Ordinal);
    }

    private static byte[] Look(byte slot5)
    {
        byte[] levels = new byte[512];
        levels[0] = 255;
        levels[4] = slot5;
        return levels;
    }

    private static byte[] Moving(int step)
    {
        byte[] levels = new byte[512];
        new Random(step).NextBytes(levels);
        return levels;
    }

    private string LastNight()
    {
        byte[] look = Look(0);
        using SimulatedSource source = new SimulatedNetwork(1)
            .Add(new SacnSource("desk", Host.At("desk", "10.0.0.1"), Cid) { Streams = [new SacnStream { Universe = 1, Levels = (_, slots) => look.CopyTo(slots), ConstantRate = true }] })
            .Run(5_000_000_000).ToSource();
        string folder = Path.Combine(_folder, "friday");
        RecordedShow.Record(source, folder, Duration.FromSeconds(600));
        return folder;
    }

    // Sends sACN 1 to this computer every 20 ms while the command runs.
    private static ProgramRun Listening(Func<int, byte[]> levels, string[] args, CancellationToken stop = default)
    {
        using CancellationTokenSource done = new();
        Thread sender = new(() =>
        {
            using Socket socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
            for (int step = 0; !done.Token.WaitHandle.WaitOne(20); step++)
            {
                try
                {
                    socket.SendTo(SacnPackets.Data(Cid, "desk", 1, step & 255, levels(step)), new IPEndPoint(IPAddress.Loopback, SacnAddressing.Port));
                }
                catch (SocketException)
                {
                    // Nobody listens yet, or any more.
                }
            }
        });
        sender.Start();
        try
        {
            // Another program, or another project's tests, may have the ports for a moment.
            for (int attempt = 0; ; attempt++)
            {
                ProgramRun run = ProgramRun.With(400, color: false, TimeZoneInfo.Utc, stop, args);
                bool isTaken = run.Code == 2 && run.Error.Contains("port", StringComparison.Ordinal);
                Skip.If(isTaken && attempt > 20, "another program has the lighting ports: " + run.Error);
                if (!isTaken)
                {
                    Assert.True(run.Code != 2, run.Error);
                    return run;
                }

                Thread.Sleep(500);
            }
        }
        finally
        {
            done.Cancel();
            sender.Join();
        }
    }
}
