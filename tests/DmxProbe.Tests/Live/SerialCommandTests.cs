using DmxProbe.Testing.Serial;
using DmxProbe.Tests.Cli;

namespace DmxProbe.Tests.Live;

/// <summary>The commands on a serial port: octets go all the way from the port through the queue to the answer.</summary>
public sealed class SerialCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-serial-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [SkippableFact]
    public void Survey_of_a_framed_interface_counts_its_packets()
    {
        ProgramRun run = WhileSending(SerialOctets.Received(0, new byte[512]), "survey", "framed:PORT", "--for", "1s");
        Assert.Equal(0, run.Code);
        Assert.Contains("serial A: 1 sender", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("fault of the program", run.Error, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void Timing_of_a_framed_interface_says_what_it_cannot_measure()
    {
        ProgramRun run = WhileSending(SerialOctets.Received(0, new byte[512]), "timing", "framed:PORT", "--for", "1s");
        Assert.Contains("not measurable", run.Output, StringComparison.Ordinal);
        Assert.Contains("512", run.Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_recording_of_a_framed_interface_is_surveyed_like_the_interface()
    {
        ProgramRun record = WhileSending(SerialOctets.Received(0, new byte[512]), "record", "framed:PORT", "--for", "1s", "-o", _folder);
        Assert.Equal(0, record.Code);
        Assert.Contains("serial A: 1 sender", ProgramRun.Of("survey", _folder).Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_recording_of_a_framed_interface_decides_its_rate_and_leaves_the_line_open()
    {
        ProgramRun record = WhileSending(SerialOctets.Received(0, new byte[512]), "record", "framed:PORT", "--for", "1s", "-o", _folder);
        Assert.Equal(0, record.Code);
        string page = Path.Combine(_folder, "record.html");
        ProgramRun timing = ProgramRun.Of("timing", _folder, "--report", page);
        Assert.Equal("", timing.Error);
        string text = File.ReadAllText(page);
        Assert.Contains("message arrival at the USB interface", text, StringComparison.Ordinal);
        Assert.Contains("the interface hands over whole packets, not edges", text, StringComparison.Ordinal);
        Assert.Contains("slots sent", text, StringComparison.Ordinal);
    }

    [SkippableTheory]
    [InlineData("framed")]
    [InlineData("uart")]
    public void Octets_that_are_no_packets_are_a_finding_and_no_crash(string kind)
    {
        ProgramRun run = WhileSending([0x55, 0xAA, 0x12, 0x00, 0xFE], "survey", kind + ":PORT", "--for", "1s");
        Assert.InRange(run.Code, 0, 1);
        Assert.Contains("no packet was found", run.Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_unit_is_explained_and_walked_live_at_a_serial_port()
    {
        byte[] slots = new byte[512];
        slots[100] = 255; // DR-1, a dimmer at 1.101
        string[] sheet = ["--patch", "captures/harbour-hall/patch.csv", "--map", "1=serial:A", "--for", "1s"];
        ProgramRun explain = WhileSending(SerialOctets.Received(0, slots), ["explain", "framed:PORT", "--unit", "DR-1", .. sheet]);
        Assert.StartsWith("DR-1 should be lit: white 100 %.", explain.Output, StringComparison.Ordinal);
        Assert.Contains("on the wire serial A", explain.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        ProgramRun walk = WhileSending(SerialOctets.Received(0, slots), ["walk", "framed:PORT", .. sheet]);
        Assert.Contains("sheet universe 1 is serial A", walk.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [SkippableTheory]
    [InlineData("survey")]
    [InlineData("record")]
    public void A_port_that_is_pulled_and_plugged_in_again_is_told_twice_and_listened_to_on(string command)
    {
        string link = Path.Combine(_folder, "port");
        string into = Path.Combine(_folder, "tonight");
        PseudoTerminal? first = PseudoTerminal.TryOpen();
        Skip.If(first is null, PseudoTerminal.NotHere);
        File.CreateSymbolicLink(link, first.Port);
        Thread person = new(() =>
        {
            SendFor(first, 1_000);
            File.Delete(link);
            first.Dispose();
            Thread.Sleep(500);
            using PseudoTerminal second = PseudoTerminal.TryOpen()!;
            File.CreateSymbolicLink(link, second.Port);
            SendFor(second, 3_000);
        });
        person.Start();
        ProgramRun run = ProgramRun.Of([command, "framed:" + link, "--for", "4s", .. command == "record" ? (string[])["-o", into] : []]);
        person.Join();
        Assert.Contains("the port went away (unplugged?); listening goes on when it is back.\n", run.Error, StringComparison.Ordinal);
        Assert.Contains("the port is back after ", run.Error, StringComparison.Ordinal);
        Assert.Equal(1, run.Error.Split("went away").Length - 1);
        ProgramRun survey = command == "record" ? ProgramRun.Of("survey", into) : run;
        Assert.Contains("serial A: 1 sender", survey.Output, StringComparison.Ordinal);
        string text = survey.Output.ReplaceLineEndings(" ");
        Assert.DoesNotContain("fell silent", text, StringComparison.Ordinal);
        Assert.DoesNotContain("nobody: ", text, StringComparison.Ordinal);
        if (command == "record")
        {
            Assert.Equal(1, run.Code); // something was lost, and the recording says where
            Assert.Contains("the port went away", text, StringComparison.Ordinal);
        }
    }

    private static void SendFor(PseudoTerminal port, int milliseconds)
    {
        long from = Environment.TickCount64;
        while (Environment.TickCount64 - from < milliseconds)
        {
            port.Write(SerialOctets.Received(0, new byte[64]));
            Thread.Sleep(20);
        }
    }

    // Sends the octets every 20 ms until the command has answered.
    private static ProgramRun WhileSending(byte[] octets, params string[] args)
    {
        using PseudoTerminal? port = PseudoTerminal.TryOpen();
        Skip.If(port is null, PseudoTerminal.NotHere);
        using CancellationTokenSource done = new();
        Thread sender = new(() =>
        {
            while (!done.Token.WaitHandle.WaitOne(20))
            {
                port.Write(octets);
            }
        });
        sender.Start();
        try
        {
            return ProgramRun.Of([.. args.Select(arg => arg.Replace("PORT", port.Port, StringComparison.Ordinal))]);
        }
        finally
        {
            done.Cancel();
            sender.Join();
        }
    }
}
