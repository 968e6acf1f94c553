using System.Collections.Concurrent;
using System.Globalization;
using System.Text.RegularExpressions;

using DmxProbe.Cli;
using DmxProbe.Tests.Cli;

namespace DmxProbe.Tests.Live;

/// <summary>
/// <c>locate net:127.0.0.1</c> with a controller of our own on the loopback interface; skipped where another program has the
/// lighting ports.
/// </summary>
public sealed partial class LiveAskTests
{
    private const int PortAddress = 30_123;
    private static readonly string[] Locate =
    [
        "locate", "net:127.0.0.1", "--patch", "captures/harbour-hall/patch.csv", "--unit", "LX1-6", "--map", string.Create(CultureInfo.InvariantCulture, $"1=artnet:{PortAddress}"),
    ];

    [SkippableFact]
    public void An_answer_counts_for_what_is_on_the_wire_and_not_for_what_was_asked()
    {
        // The light reads 1.016. The person never does what is asked, but works the six washes one after the other in dimmer and
        // colours, and says truly whether the light is lit. Nothing but the wire tells what was up.
        using LiveRig rig = new(PortAddress);
        int turn = 0;
        ProgramRun run = Run(shown =>
        {
            if (shown.EndsWith("(yes or no)", StringComparison.Ordinal))
            {
                return "no";
            }

            if (shown.EndsWith("leave them alone)", StringComparison.Ordinal) || turn >= 20)
            {
                return turn >= 20 ? "q" : "";
            }

            // Two of three turns the truth's neighbours, then the slots at which it is lit.
            int[][] looks = [[13, 14, 15, 16, 17], [25, 26, 27, 28, 29], [1, 2, 3, 4, 5], [37, 38, 39, 40, 41], [49, 50, 51, 52, 53], [61, 62, 63, 64, 65], [16, 17], [13, 14, 15], [16, 25, 26], [17, 25]];
            rig.Only(looks[turn++ % looks.Length]);
            LiveRig.Settle();
            return IsLit(rig, 16) ? "lit" : "dark";
        }, "--ask", "--controller", "ranges", "--for", "1s");
        Assert.Contains("Your answer counts for what is sent, not for what was asked.", run.Output, StringComparison.Ordinal);
        Assert.Contains("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", run.Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_person_who_does_what_is_asked_is_led_to_the_address_and_what_the_wire_lacks_is_said_once()
    {
        using LiveRig rig = new(PortAddress);
        bool forgot = false;
        ProgramRun run = Run(shown =>
        {
            if (shown.EndsWith("(yes or no)", StringComparison.Ordinal))
            {
                return "no";
            }

            if (shown.EndsWith("Enter: as found)", StringComparison.Ordinal) || shown.EndsWith("leave them alone)", StringComparison.Ordinal))
            {
                return "";
            }

            if (!forgot)
            {
                // The master is down: nothing arrives.
                forgot = true;
                LiveRig.Settle();
                return "dark";
            }

            string question = shown[shown.LastIndexOf("raise only", StringComparison.Ordinal)..];
            rig.Only(Slot().Matches(question[..question.IndexOf(" to full", StringComparison.Ordinal)]).SelectMany(run =>
            {
                int from = int.Parse(run.Groups[1].Value, CultureInfo.InvariantCulture);
                int to = run.Groups[2].Success ? int.Parse(run.Groups[2].Value, CultureInfo.InvariantCulture) : from;
                return Enumerable.Range(from, to - from + 1);
            }));
            LiveRig.Settle();
            return IsLit(rig, 16) ? "lit" : "dark";
        }, "--ask", "--controller", "ranges", "--for", "1s");
        Assert.Equal(1, Regex.Count(run.Output, "nothing of what was asked for"));
        Assert.Contains("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", run.Output, StringComparison.Ordinal);
        Assert.Contains("  Confirmed  LX1-6 lit in the confirming look", run.Output, StringComparison.Ordinal);
        Assert.Equal(1, run.Code);
    }

    [SkippableFact]
    public void Keys_pressed_while_a_live_input_runs_are_taps_on_its_clock()
    {
        // Slots 16 and 17 change together (dimmer and red at 1.016), 13 and 14 at other moments; a key 0.3 s after each change.
        using LiveRig rig = new(PortAddress);
        using BlockingCollection<ConsoleKeyInfo> keys = [];
        Thread show = new(() =>
        {
            double[] moments = [0.9, 2.2, 3.0, 4.4, 5.3, 6.9];
            double[] others = [0.5, 1.6, 2.6, 3.7, 4.9, 6.1];
            foreach ((double at, bool own) in moments.Select(at => (at, true)).Concat(others.Select(at => (at, false))).OrderBy(each => each.Item1))
            {
                TimeSpan wait = TimeSpan.FromSeconds(at) - Elapsed();
                Thread.Sleep(wait > TimeSpan.Zero ? wait : TimeSpan.Zero);
                foreach (int slot in own ? [16, 17] : new[] { 13, 14 })
                {
                    rig[slot] = (byte)(rig[slot] > 0 ? 0 : 255);
                }

                if (own)
                {
                    Thread.Sleep(300);
                    keys.Add(new ConsoleKeyInfo(' ', ConsoleKey.Spacebar, false, false, false));
                }
            }
        });
        _begun = Environment.TickCount64;
        show.Start();
        ProgramRun run;
        try
        {
            run = Run(_ => null, () => keys.Take(), "--tap", "--for", "8s");
        }
        finally
        {
            // A run that is skipped ends early; the show still uses the keys and the rig.
            show.Join();
        }

        Assert.Contains("Press any key each time the light changes, for 8 s.\n", run.Error, StringComparison.Ordinal);
        Assert.Contains("\ntap 1, ", run.Error, StringComparison.Ordinal);
        Assert.Matches(@"\ntap 6, \d s left\n", run.Error);
        Assert.Contains("6 taps within ", run.Output, StringComparison.Ordinal);
        Assert.Matches(@"(best|likeliest so far|reads): ?1\.016|LX1-6 reads 1\.016", run.Output);
    }

    private long _begun;

    private TimeSpan Elapsed() => TimeSpan.FromMilliseconds(Environment.TickCount64 - _begun);

    // A 10-slot wash at an address: dimmer, then red, green, blue, amber; white is the tenth.
    private static bool IsLit(LiveRig rig, int address) => rig[address] > 20 && new[] { 1, 2, 3, 4, 9 }.Any(offset => rig[address + offset] > 20);

    private static ProgramRun Run(Func<string, string?> person, params string[] more) => Run(person, null, more);

    private static ProgramRun Run(Func<string, string?> person, Func<ConsoleKeyInfo>? key, params string[] more)
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringWriter error = new() { NewLine = "\n" };
        using PersonReader input = new(output, person);
        int code = DmxProbeProgram.Run([.. Locate, .. more], new ProgramHost(output, error, 120, false, TimeZoneInfo.Utc, default) { Input = input, ReadKey = key });
        Skip.If(error.ToString().Contains("another program on this computer has UDP port", StringComparison.Ordinal), "another program has the lighting ports");
        Assert.DoesNotContain("   at ", error.ToString(), StringComparison.Ordinal);
        return new ProgramRun(code, output.ToString(), error.ToString());
    }

    [GeneratedRegex(@"1\.(\d{3})(?: to 1\.(\d{3}))?")]
    private static partial Regex Slot();
}
