using System.Globalization;
using System.Text.Json;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Arbitration;

namespace DmxProbe.Tests.Cli;

/// <summary>explain --slot over several slots and times.</summary>
public sealed class SlotTableCommandTests
{
    private const string Capture = "captures/harbour-hall/soundcheck.pcapng";
    private const string Sheet = "captures/harbour-hall/patch.csv";

    [Fact]
    public void Each_row_worked_out_by_hand_is_what_the_program_says()
    {
        foreach (IGrouping<UniverseId, WhoWinsByHand> rows in WhoWinsByHand.Lines.Select(WhoWinsByHand.Read).GroupBy(row => row.Universe))
        {
            string protocol = rows.Key.Protocol == UniverseProtocol.Sacn ? "sacn" : "artnet";
            string slots = string.Join(',', rows.Select(row => row.Slot).Distinct().Select(slot => $"{protocol}:{rows.Key.Number}.{slot}"));
            string times = string.Join(',', rows.Select(row => row.Seconds.ToString(CultureInfo.InvariantCulture)).Distinct());
            using JsonDocument page = JsonDocument.Parse(ProgramRun.Of("explain", "captures/arbitration/who-wins.pcapng", "--slot", slots, "--at", times, "--json").Output);
            string[] names = [.. page.RootElement.GetProperty("senders").EnumerateArray().Select(Name)];
            foreach (WhoWinsByHand row in rows)
            {
                string at = TrafficScript.At(row.Seconds).ToString();
                JsonElement answer = page.RootElement.GetProperty("answers").EnumerateArray()
                    .Single(each => each.GetProperty("slot").GetInt32() == row.Slot && each.GetProperty("at").GetString() == at);
                Assert.Equal(row.Answer, string.Join("; ", answer.GetProperty("cases").EnumerateArray().Select(each => Words(each, names))));
            }
        }

        static string Name(JsonElement sender) => sender.GetProperty("name").GetString() is { Length: > 0 } name ? name
            : sender.GetProperty("address").GetString() switch { "10.20.0.21" => "A", "10.20.0.22" => "B", _ => "C" };

        static string Words(JsonElement each, string[] names)
        {
            string receiver = each.GetProperty("receiver").GetString()!;
            string who = string.Join('+', each.GetProperty("senders").EnumerateArray().Select(place => names[place.GetInt32()]));
            JsonElement value = each.GetProperty("value");
            return $"{(receiver == "always" ? "" : Pascal(receiver) + ": ")}{(who.Length == 0 ? "nobody" : who)} {Pascal(each.GetProperty("rule").GetString()!)} = {(value.ValueKind == JsonValueKind.Null ? "?" : value.GetInt32().ToString(CultureInfo.InvariantCulture))}";
        }

        static string Pascal(string word) => char.ToUpperInvariant(word[0]) + word[1..];
    }

    [Fact]
    public void A_slot_of_a_line_is_named_by_the_letter_of_the_line()
    {
        ProgramRun run = ProgramRun.Of("explain", "captures/harbour-hall/stage-left.vcd", "--slot", "line:a.16");
        Assert.Equal("", run.Error);
        Assert.Equal(0, run.Code);
        Assert.StartsWith("line A slot 16 at ", run.Output, StringComparison.Ordinal);
        Assert.Contains("--slot: expected sacn, artnet, line or serial before the colon, found 'wire:1.16'", ProgramRun.Of("explain", "captures/harbour-hall/stage-left.vcd", "--slot", "wire:1.16").Refusal(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("sacn:2.1-", "--slot: expected universe.slot such as")]
    [InlineData("sacn:2.5-1", "--slot: expected slots from 1 to 512 behind the point, the lower first, found 'sacn:2.5-1'")]
    [InlineData("sacn:2.1,", "--slot: expected universe.slot such as")]
    [InlineData("sacn:2.1-512,sacn:3.1-512,artnet:0.1-512,sacn:2.1-512", "--slot: expected at most 2000 answers (slots times moments of --at), found 2048")]
    public void Slots_that_are_none_are_refused(string slots, string sentence) =>
        Assert.StartsWith(sentence, ProgramRun.Of("explain", Capture, "--slot", slots).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void Several_slots_or_times_give_a_table_and_say_what_nobody_sends()
    {
        ProgramRun run = ProgramRun.Of("explain", Capture, "--slot", "sacn:9.1-2,sacn:2.1", "--at", "30,1", "--utc");
        Assert.Equal(1, run.Code);
        Assert.Contains("sACN 9 slot 1 to 2: no levels up to then", run.Output, StringComparison.Ordinal);
        Assert.Contains("--at: expected one time with --unit", ProgramRun.Of("explain", Capture, "--patch", Sheet, "--unit", "LX1-6", "--at", "1,2").Refusal(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("7FF0-12345678", "--uid: expected a UID of twelve hexadecimal digits such as 7FF0:12345678, found '7FF0-12345678'")]
    [InlineData("", "--uid is given an empty value")]
    [InlineData("7FF0:00000999", "--uid: no RDM device 7FF0:00000999 tells its start address on a captured universe")]
    public void A_UID_that_is_none_or_says_nothing_is_refused(string uid, string sentence) => Assert.StartsWith(
        sentence,
        ProgramRun.Of("locate", Capture, "captures/rdm/stage-left.pcapng", "--patch", Sheet, "--unit", "LX1-6", "--trace", "captures/harbour-hall/lx1-6-trace.csv", "--uid", uid).Refusal(),
        StringComparison.Ordinal);
}
