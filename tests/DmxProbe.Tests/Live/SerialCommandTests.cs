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

    [SkippableTheory]
    [InlineData("framed")]
    [InlineData("uart")]
    public void Octets_that_are_no_packets_are_a_finding_and_no_crash(string kind)
    {
        ProgramRun run = WhileSending([0x55, 0xAA, 0x12, 0x00, 0xFE], "survey", kind + ":PORT", "--for", "1s");
        Assert.InRange(run.Code, 0, 1);
        Assert.Contains("no packet was found", run.Output, StringComparison.Ordinal);
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
