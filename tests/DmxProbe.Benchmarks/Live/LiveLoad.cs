using System.Diagnostics;
using System.Globalization;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Filters;
using DmxProbe.Capture.Live;

namespace DmxProbe.Benchmarks.Live;

/// <summary>
/// The load table: what live inputs lose and cost on the loopback interface, with the whole survey behind them. The sender is a
/// process of its own. <c>live-load [seconds]</c>.
/// </summary>
internal static class LiveLoad
{
    private const int CappedBuffer = 212_992 / 2; // the kernel doubles what is asked
    private const string Header = "input      buffer      universes  Hz     sent  received  lost (ours)  missing  sender's packets/s  CPU %";

    public static int Run(string[] args)
    {
        double seconds = args.Length > 0 ? double.Parse(args[0], CultureInfo.InvariantCulture) : 60;
        double rising = Math.Min(seconds, 5);
        Console.WriteLine(Header);
        Row("net:127.0.0.1", LiveSettings.UsualReceiveBuffer, 1000, 44, seconds);
        Row("net:127.0.0.1", CappedBuffer, 1000, 44, seconds);
        Row("nic:lo", LiveSettings.UsualReceiveBuffer, 1000, 44, seconds);
        foreach (int hertz in new[] { 88, 176, 352, 1000 })
        {
            Row("net:127.0.0.1", LiveSettings.UsualReceiveBuffer, 1000, hertz, rising);
        }

        // A buffer that holds four datagrams, until loss is certain: the count must still be the sender's.
        Row("net:127.0.0.1", 8192, 1000, 1000, rising);
        return Noise(rising);
    }

    private static int Noise(double seconds)
    {
        Console.WriteLine();
        Console.WriteLine("random octets on both ports at full rate:");
        Outcome outcome = Listen("net:127.0.0.1", LiveSettings.UsualReceiveBuffer, 1, "send-noise", Text(seconds));
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"sent {outcome.Sent:N0}, received {outcome.Received:N0}, lost (ours) {outcome.Lost:N0}, missing {outcome.Sent - outcome.Received - outcome.Lost:N0}; managed memory {outcome.MemoryBefore / 1e6:0} -> {outcome.MemoryAfter / 1e6:0} MB"));
        return 0;
    }

    private static void Row(string input, int buffer, int universes, double hertz, double seconds)
    {
        Outcome outcome = Listen(input, buffer, universes, "send-load", universes.ToString(CultureInfo.InvariantCulture), Text(hertz), Text(seconds));
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{input,-13} {outcome.Granted,9} {universes,9} {hertz,5:0} {outcome.Sent,9} {outcome.Received,9} {outcome.Lost,9} {outcome.Sent - outcome.Received - outcome.Lost,8} {outcome.Sent / outcome.Seconds,12:N0} {100 * outcome.Cpu.TotalSeconds / outcome.Seconds,10:0.0}"));
    }

    private static Outcome Listen(string input, int buffer, int universes, params string[] sender)
    {
        string granted = "";
        LiveSettings settings = new()
        {
            Clock = TimeProvider.System,
            Universes = [.. Enumerable.Range(1, universes)],
            ReceiveBuffer = buffer,
            Tell = notice => granted = notice.Id.StartsWith("buffer", StringComparison.Ordinal) ? Figure(notice.Text) : granted,
        };
        using CancellationTokenSource stop = new();
        ILiveSource live = LiveInput.Open(input, settings);
        using EndingSource source = new(live, [live], TimeProvider.System, null, stop.Token);
        long memoryBefore = GC.GetTotalMemory(forceFullCollection: true);
        TimeSpan cpuBefore = Process.GetCurrentProcess().TotalProcessorTime;
        Task<string> sending = Task.Run(() => Send(sender, stop));
        SurveySnapshot survey = Surveyor.Run(source, CancellationToken.None);
        TimeSpan cpu = Process.GetCurrentProcess().TotalProcessorTime - cpuBefore;
        long memoryAfter = GC.GetTotalMemory(forceFullCollection: true);
        string[] said = sending.Result.Split(' ');
        long lost = survey.Inputs[0].LostByCapture;
        long lossRecords = survey.Inputs[0].Records - survey.Universes.Sum(universe => universe.Frames) - survey.Inputs[0].Malformed - survey.Inputs[0].OtherTraffic;
        return new Outcome(
            long.Parse(said[0], CultureInfo.InvariantCulture),
            survey.Inputs[0].Records - Math.Max(0, sender[0] == "send-load" ? lossRecords : 0),
            lost,
            double.Parse(said[1], CultureInfo.InvariantCulture),
            cpu,
            granted,
            memoryBefore,
            memoryAfter);
    }

    // The listener has a moment to start and, after the last datagram, to read.
    private static string Send(string[] arguments, CancellationTokenSource stop)
    {
        Thread.Sleep(500);
        ProcessStartInfo start = new(Environment.ProcessPath!) { RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet")
        {
            start.ArgumentList.Add(typeof(LiveLoad).Assembly.Location);
        }

        foreach (string argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        using Process process = Process.Start(start)!;
        string said = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Thread.Sleep(500);
        stop.Cancel();
        return said.Trim();
    }

    private static string Figure(string text) =>
        text.Split(' ').First(word => word.Length > 0 && char.IsAsciiDigit(word[0]));

    private static string Text(double value) => value.ToString(CultureInfo.InvariantCulture);

    private sealed record Outcome(
        long Sent, long Received, long Lost, double Seconds, TimeSpan Cpu, string Granted, long MemoryBefore, long MemoryAfter);
}
