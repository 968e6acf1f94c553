using System.Buffers.Binary;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Capture.Live;
using DmxProbe.Capture.Serial;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Capture.Tests.Serial;

/// <summary>
/// Both serial sources on pseudo terminals. One carries no break, so for <c>uart:</c> the test writes the marks that the kernel
/// would; that the kernel marks breaks itself needs a real adapter.
/// </summary>
public class SerialSourceTests
{
    private const int PacketsOfAMinute = 60 * 44;

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_minute_of_packets_as_fast_as_the_port_takes_them_arrives_without_loss(bool isFramed)
    {
        using PseudoTerminal port = Open();
        using SerialListener listener = new(isFramed, port.Port);
        Thread writer = Writer(() =>
        {
            for (int i = 0; i < PacketsOfAMinute; i++)
            {
                port.Write(Packet(isFramed, i));
            }

            port.Write(End(isFramed));
        });
        listener.Until(() => listener.Frames.Count == PacketsOfAMinute);
        writer.Join();
        AssertWhole(listener);
        Assert.Equal(0, port.Heard());
    }

    /// <summary>
    /// Sixty seconds in real time: <c>DMXPROBE_SLOW=1 dotnet test tests/DmxProbe.Capture.Tests --filter Sixty_seconds</c>.
    /// </summary>
    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void Sixty_seconds_at_44_Hz_arrive_without_loss(bool isFramed)
    {
        Skip.If(Environment.GetEnvironmentVariable("DMXPROBE_SLOW") != "1", "takes a minute each: set DMXPROBE_SLOW=1");
        using PseudoTerminal port = Open();
        using SerialListener listener = new(isFramed, port.Port);
        Thread writer = Writer(() =>
        {
            long from = TimeProvider.System.GetTimestamp();
            for (int i = 0; i < PacketsOfAMinute; i++)
            {
                TimeSpan ahead = TimeSpan.FromSeconds(i / 44.0) - TimeProvider.System.GetElapsedTime(from);
                if (ahead > TimeSpan.Zero)
                {
                    Thread.Sleep(ahead);
                }

                port.Write(Packet(isFramed, i));
            }

            port.Write(End(isFramed));
        });
        listener.Until(() => listener.Frames.Count == PacketsOfAMinute, TimeSpan.FromSeconds(90));
        writer.Join();
        AssertWhole(listener);
        double seconds = (listener.Frames[^1].Time - listener.Frames[0].Time).TotalSeconds;
        Assert.InRange((PacketsOfAMinute - 1) / seconds, 43.9, 44.1);
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void Garbage_costs_no_packet_that_came_whole(bool isFramed)
    {
        using PseudoTerminal port = Open();
        using SerialListener listener = new(isFramed, port.Port);
        Random random = new(4);
        Thread writer = Writer(() =>
        {
            for (int i = 0; i < 200; i++)
            {
                byte[] packet = Packet(isFramed, i);
                if (i % 3 == 1)
                {
                    // The kernel never cuts one of its marks in two.
                    port.Write(isFramed ? packet[..random.Next(packet.Length)] : SerialOctets.Marked([0, .. Slots(i)[..random.Next(512)]]));
                }
                else if (i % 3 == 2)
                {
                    byte[] noise = new byte[random.Next(1, 200)];
                    random.NextBytes(noise);
                    port.Write(isFramed ? noise : [.. noise.Select(octet => octet == 0xFF ? (byte)1 : octet)]);
                }

                port.Write(packet);
            }

            port.Write(Packet(isFramed, 200));
            port.Write(End(isFramed));
        });
        listener.Until(() => listener.Frames.Exists(frame => frame.Slots.Length == 512 && Index(frame.Slots) == 200 && !IsCut(frame.Slots, 200)));
        writer.Join();
        HashSet<int> whole =
        [
            .. listener.Frames.Where(frame => frame.Slots.Length == 512 && !IsCut(frame.Slots, Index(frame.Slots))).Select(frame => Index(frame.Slots)),
        ];
        Assert.Equal(201, whole.Count);
        Assert.Contains(listener.Events, each => each.Kind == (isFramed ? LinkEventKind.SerialGarbage : LinkEventKind.SlotsOver512));
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void An_unplugged_port_is_told_once_and_listened_to_again_when_it_is_back(bool isFramed)
    {
        string folder = Directory.CreateTempSubdirectory("dmxprobe").FullName;
        try
        {
            string link = Path.Combine(folder, "port");
            using PseudoTerminal first = Open();
            File.CreateSymbolicLink(link, first.Port);
            using SerialListener listener = new(isFramed, link);
            byte[] half = Packet(isFramed, 1);
            first.Write([.. Packet(isFramed, 0), .. half.AsSpan(0, 300)]);
            listener.Until(() => listener.Frames.Count == 1);
            File.Delete(link);
            first.Dispose();
            listener.Until(() => listener.Notices.Count == 1);
            LiveNotice gone = listener.Notices[0];
            Assert.Equal(("serial-unplugged", true), (gone.Id, gone.IsWarning));
            Assert.Contains("the port went away", gone.Text, StringComparison.Ordinal);
            int idles = listener.Idles;
            listener.Until(() => listener.Idles >= idles + 10);
            Assert.Single(listener.Notices);

            using PseudoTerminal second = Open();
            File.CreateSymbolicLink(link, second.Port);
            listener.Until(() => listener.Notices.Count == 2);
            Assert.Equal("serial-back", listener.Notices[1].Id);
            second.Write([.. half.AsSpan(300), .. Packet(isFramed, 2), .. End(isFramed)]);
            listener.Until(() => listener.Frames.Count == 2);
            Assert.Equal([0, 2], listener.Frames.Select(frame => Index(frame.Slots)));
            Assert.Single(listener.Events, each => each.Kind == LinkEventKind.CaptureLoss);
            Assert.Equal(0, second.Heard());
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void Stopping_delivers_what_has_arrived_and_ends(bool isFramed)
    {
        using PseudoTerminal port = Open();
        using SerialListener listener = new(isFramed, port.Port);
        port.Write([.. Packet(isFramed, 0), .. End(isFramed)]);
        listener.Until(() => listener.Frames.Count == 1);
        port.Write([.. Packet(isFramed, 1), .. End(isFramed)]);
        Thread.Sleep(50); // the pseudo terminal hands over on a thread of the kernel
        listener.Source.Stop();
        listener.Until(() => listener.Frames.Count == 2);
        ReadStatus status = ReadStatus.Record;
        for (int i = 0; i < 20 && status != ReadStatus.End; i++)
        {
            status = listener.Step();
        }

        Assert.Equal(ReadStatus.End, status);
        Assert.Null(listener.Source.Problem);
    }

    /// <summary>What of the kernel's marking a pseudo terminal can show: with PARMRK it doubles each FF (POSIX.1, XBD 11.2.2). Breaks need an adapter.</summary>
    [SkippableFact]
    public void Where_the_kernel_marks_it_doubles_FF_and_each_is_read_as_one()
    {
        using PseudoTerminal port = Open();
        Skip.IfNot(LinuxUart.IsSupported, PseudoTerminal.NotHere);
        using SerialSource source = SerialSource.OpenUart(port.Port, new LiveSettings { Clock = TimeProvider.System, Tell = _ => { } });
        port.Write([1, 0xFF, 2, 0xFF, 0xFF, 0, 0]);
        List<byte> run = [];
        for (int i = 0; i < 500 && run.Count < 14; i++)
        {
            if (source.Read(out CaptureRecord record) == ReadStatus.Record)
            {
                run.AddRange(record.Data);
            }
        }

        Assert.Equal([0, 1, 0, 0xFF, 0, 2, 0, 0xFF, 0, 0xFF, 0, 0, 0, 0], run);
    }

    [SkippableFact]
    public void A_silent_port_gives_idle_with_the_time()
    {
        using PseudoTerminal port = Open();
        using SerialListener listener = new(isFramed: false, port.Port);
        Timestamp before = listener.Last;
        listener.Until(() => listener.Idles == 3);
        Assert.True(listener.Last > before);
        Assert.Empty(listener.Frames);
    }

    [SkippableFact]
    public void A_system_that_marks_no_breaks_is_told_and_gives_octets_only()
    {
        using PseudoTerminal port = Open();
        using SerialListener listener = new(isFramed: false, port.Port, portable: true);
        Assert.Equal("serial-no-breaks", Assert.Single(listener.Notices).Id);
        port.Write([1, 2, 3]);
        listener.Until(() => listener.Events.Count > 0);
        Assert.All(listener.Events, each => Assert.Equal(LinkEventKind.SerialGarbage, each.Kind));
        Assert.Empty(listener.Frames);
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_port_that_is_not_there_is_refused_in_one_sentence(bool isFramed)
    {
        Skip.IfNot(OperatingSystem.IsLinux(), PseudoTerminal.NotHere);
        InputException refused = Assert.Throws<InputException>(() => new SerialListener(isFramed, "ttyNOTHERE").Dispose());
        Assert.Contains("there is no serial port /dev/ttyNOTHERE; is it plugged in?", refused.Message, StringComparison.Ordinal);
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_file_that_is_no_port_is_refused_in_one_sentence(bool isFramed)
    {
        Skip.IfNot(OperatingSystem.IsLinux(), PseudoTerminal.NotHere);
        InputException refused = Assert.Throws<InputException>(() => new SerialListener(isFramed, "/dev/null").Dispose());
        Assert.StartsWith((isFramed ? "framed:" : "uart:") + "/dev/null: ", refused.Message, StringComparison.Ordinal);
    }

    private static PseudoTerminal Open()
    {
        PseudoTerminal? port = PseudoTerminal.TryOpen();
        Skip.If(port is null, PseudoTerminal.NotHere);
        return port!;
    }

    private static Thread Writer(Action write)
    {
        Thread thread = new(() => write()) { IsBackground = true };
        thread.Start();
        return thread;
    }

    // START code 0, the packet's number in slots 1 to 4, then octets of every kind from the number.
    private static byte[] Packet(bool isFramed, int number)
    {
        byte[] slots = Slots(number);
        return isFramed ? SerialOctets.Received(0, slots) : SerialOctets.Marked([0, .. slots]);
    }

    private static byte[] Slots(int number)
    {
        byte[] slots = new byte[512];
        new Random(number).NextBytes(slots);
        BinaryPrimitives.WriteInt32LittleEndian(slots, number);
        slots.AsSpan(20, 3).Fill(0xFF);
        slots.AsSpan(40, 3).Fill(0x7E);
        slots.AsSpan(60, 3).Fill(0xE7);
        return slots;
    }

    // What a packet of fewer than 512 slots waits for on a bare port: the next break.
    private static byte[] End(bool isFramed) => isFramed ? [] : SerialOctets.Marked();

    private static int Index(byte[] slots) => BinaryPrimitives.ReadInt32LittleEndian(slots);

    private static bool IsCut(byte[] slots, int number) => !slots.AsSpan().SequenceEqual(Slots(number));

    private static void AssertWhole(SerialListener listener)
    {
        for (int i = 0; i < PacketsOfAMinute; i++)
        {
            Assert.Equal(FrameFlags.None, listener.Frames[i].Flags);
            Assert.True(listener.Frames[i].Slots.AsSpan().SequenceEqual(Slots(i)), $"packet {i} differs");
        }

        Assert.Empty(listener.Events);
    }
}
