using System.Buffers.Binary;
using System.Diagnostics;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Recording;

/// <summary>
/// Feeds the real program records through a pipe, kills it with SIGKILL, and looks at what is left. Each record holds its
/// number, so that a gap, a change of order or a foreign octet shows.
/// </summary>
public static class KillTrial
{
    private const int Length = 638; // a full sACN packet

    /// <summary>Runs one trial.</summary>
    /// <param name="program">dmxprobe.dll.</param>
    /// <param name="folder">An empty folder.</param>
    /// <param name="perSecond">Records a second.</param>
    /// <param name="after">When to kill, after the first record was sent.</param>
    public static KillOutcome Run(string program, string folder, int perSecond, TimeSpan after)
    {
        ProcessStartInfo start = new("dotnet") { RedirectStandardInput = true, RedirectStandardError = true, RedirectStandardOutput = true };
        foreach (string word in (string[])[program, "record", "-", "-o", folder, "--segment", "2s"])
        {
            start.ArgumentList.Add(word);
        }

        using Process recorder = Process.Start(start)!;
        // A number for each millisecond, so that it is known what had been sent a second before the end.
        List<(TimeSpan At, long Sent)> history = [];
        long sent = 0;
        Stopwatch clock;
        try
        {
            using PcapngWriter writer = new(recorder.StandardInput.BaseStream, "trial", leaveOpen: true);
            int face = writer.AddInterface("trial", "", LinkType.Ethernet);
            byte[] packet = new byte[Length];
            // The program starts in its own time: the clock runs from when it takes records.
            SendNext();
            writer.Flush();
            WaitFor(() => Directory.GetFiles(folder, "*.pcapng").Length > 0);
            clock = Stopwatch.StartNew();
            while (clock.Elapsed < after)
            {
                for (long due = (long)(clock.Elapsed.TotalSeconds * perSecond); sent < due;)
                {
                    SendNext();
                }

                writer.Flush();
                history.Add((clock.Elapsed, sent));
                Thread.Sleep(1);
            }

            recorder.Kill();

            void SendNext()
            {
                BinaryPrimitives.WriteInt64LittleEndian(packet, ++sent);
                writer.WritePacket(face, Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000 + (sent * 1_000_000_000 / perSecond)), packet, Length);
            }
        }
        catch (IOException)
        {
            throw new InvalidOperationException("the program ended by itself: " + recorder.StandardError.ReadToEnd());
        }
        finally
        {
            if (!recorder.HasExited)
            {
                recorder.Kill();
            }

            recorder.WaitForExit();
        }

        long aSecondBefore = history.LastOrDefault(moment => moment.At <= clock.Elapsed - TimeSpan.FromSeconds(1)).Sent;
        (long left, bool inOrder, string? cut) = Look(folder);
        TimeSpan lastKept = history.FirstOrDefault(moment => moment.Sent >= left).At;
        TimeSpan lostTime = left >= sent || history.Count == 0 ? TimeSpan.Zero : history[^1].At - lastKept;
        return new KillOutcome(sent, aSecondBefore, left, inOrder, lostTime, cut);
    }

    private static (long Left, bool InOrder, string? Cut) Look(string folder)
    {
        using ICaptureSource? source = Open(folder);
        if (source is null)
        {
            return (0, true, null);
        }

        long expected = 0;
        bool inOrder = true;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            expected++;
            inOrder &= record.Data.Length == Length
                && BinaryPrimitives.ReadInt64LittleEndian(record.Data) == expected
                && record.Data[8..].IndexOfAnyExcept((byte)0) < 0;
        }

        return (expected, inOrder, source.Problem?.ToString());
    }

    // Killed between making the first file and its first octet: nothing was recorded yet.
    private static ICaptureSource? Open(string folder)
    {
        try
        {
            return RecordedFolder.Open(folder);
        }
        catch (InputException)
        {
            return null;
        }
    }

    private static void WaitFor(Func<bool> condition)
    {
        Stopwatch patience = Stopwatch.StartNew();
        while (!condition() && patience.Elapsed < TimeSpan.FromSeconds(30))
        {
            Thread.Sleep(5);
        }
    }
}
