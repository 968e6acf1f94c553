using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Arbitration;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Arbitration;

/// <summary>
/// captures/arbitration/who-wins.pcapng against a table worked out by hand from the standards: E1.31-2018 by clause (read),
/// Art-Net 4 1.4dn by page (read), the per-address priority convention ("convention": secondary sources). Where a row
/// rests on how we read a text that leaves something open, it says "our reading".
/// </summary>
public sealed class WhoWinsTests
{
    private static readonly string Capture = Path.Combine([Places.Repository, "captures", .. WhoWins.File.Split('/')]);

    public static TheoryData<string> Rows => [.. WhoWinsByHand.Lines];

    private static IEnumerable<WhoWinsByHand> ByHand => WhoWinsByHand.Lines.Select(WhoWinsByHand.Read);

    [Fact]
    public void The_capture_is_the_script_byte_for_byte() =>
        Assert.Equal(WhoWins.Script().Pcapng(), File.ReadAllBytes(Capture));

    [Theory, MemberData(nameof(Rows))]
    public void Each_slot_comes_from_whom_the_standard_says(string row)
    {
        WhoWinsByHand expected = WhoWinsByHand.Read(row);
        using WhoWinsReading reading = new(expected.Universe);
        reading.ReadTo(TrafficScript.At(expected.Seconds));
        Assert.Equal(expected.Answer, reading.Words(expected.Slot));
    }

    [Fact]
    public void One_pass_that_is_asked_between_says_the_same_as_a_pass_for_each_row()
    {
        foreach (IGrouping<UniverseId, WhoWinsByHand> ofUniverse in ByHand.GroupBy(row => row.Universe))
        {
            using WhoWinsReading reading = new(ofUniverse.Key);
            foreach (WhoWinsByHand row in ofUniverse.OrderBy(row => row.Seconds))
            {
                reading.ReadTo(TrafficScript.At(row.Seconds));
                Assert.Equal(row.Answer, reading.Words(row.Slot));
            }
        }
    }

    [Fact]
    public void A_table_of_slots_and_times_answers_as_one_question_each()
    {
        List<WhoWinsByHand> rows = [.. ByHand];
        List<Timestamp> times = [.. rows.Select(row => TrafficScript.At(row.Seconds)).Distinct().Order()];
        List<SlotAsk> asks = [.. rows.Select(row => (row.Universe, row.Slot)).Distinct().Select(place => new SlotAsk([place.Universe], place.Slot, place.Slot))];
        ArbitrationTable table = new(asks) { Times = () => times };
        using ICaptureSource source = CaptureFile.Open(Capture);
        RecordDecoder decoder = new();
        new Session(source, decoder, table).Run(CancellationToken.None);
        IReadOnlyList<SlotAnswer> answers = table.Answers(times[^1]);
        foreach (WhoWinsByHand row in rows)
        {
            SlotAnswer answer = Assert.Single(answers, each => each.At == TrafficScript.At(row.Seconds) && each.Universe == row.Universe && each.Slot == row.Slot);
            using WhoWinsReading reading = new(row.Universe);
            reading.ReadTo(answer.At);
            SlotAnswer single = reading.Ask(row.Slot);
            Assert.Equal(
                single.Cases.Select(each => (each.Condition, string.Join('+', each.Senders), each.Rule, each.Value, each.Since)),
                answer.Cases.Select(each => (each.Condition, string.Join('+', each.Senders), each.Rule, each.Value, each.Since)));
        }
    }

    [Fact]
    public void A_universe_that_is_not_followed_has_the_same_winners_and_the_same_changes()
    {
        foreach (UniverseId universe in ByHand.Select(row => row.Universe).Distinct())
        {
            using WhoWinsReading followed = new(universe);
            using WhoWinsReading plain = new(null, universe);
            for (double second = 0.5; second < 31; second += 0.5)
            {
                followed.ReadTo(TrafficScript.At(second));
                plain.ReadTo(TrafficScript.At(second));

                // Where one sender has been alone all the time there is nothing to tell.
                if (plain.Winners() is { Count: > 0 } winners)
                {
                    Assert.Equal(followed.Winners(), winners);
                }
            }

            Assert.Equal(followed.Changes(), plain.Changes());
        }
    }

    [Fact]
    public void Changes_are_told_by_range_with_their_cause()
    {
        using WhoWinsReading reading = new(new UniverseId(UniverseProtocol.Sacn, 2));
        reading.ReadTo(TrafficScript.At(31));
        Assert.Equal(
        [
            "2.00 1-1 SlotBySlot Main -> Backup AddressPriority by AddressPriorityChanged Backup",
            "2.00 4-4 SlotBySlot Main -> Main+Backup EqualPriority by AddressPriorityChanged Backup",
            "7.50 1-1 SlotBySlot Backup -> Main HigherPriority by AddressPriorityLost Backup",
            "7.50 4-4 SlotBySlot Main+Backup -> Main HigherPriority by AddressPriorityLost Backup",
            "9.00 1-2 SlotBySlot Main -> Backup OnlySourced by AddressPriorityChanged Main",
            "9.00 3-3 SlotBySlot Main -> Main+Backup ReservedPriority by AddressPriorityChanged Main",
            "12.50 1-2 SlotBySlot Backup -> nobody NotSourced by SenderLost Backup",
            "12.50 3-3 SlotBySlot Main+Backup -> Main ReservedPriority by SenderLost Backup",

            // Main's last DDh came at 13.5 and its last levels at 13.6; each counts for 2.5 s.
            "16.00 1-2 SlotBySlot nobody -> Main OnlySender by AddressPriorityLost Main",
            "16.10 1-4 Always Main -> nobody Nobody by SenderLost Main",
        ], reading.Changes());
    }

    [Fact]
    public void Who_moved_a_slot_last_is_told_with_its_cause()
    {
        using WhoWinsReading reading = new(new UniverseId(UniverseProtocol.Sacn, 1));
        reading.ReadTo(TrafficScript.At(7));
        SlotMove move = reading.Ask(1).Cases[0].Moved!;
        Assert.Equal((200, 10, ChangeCause.PriorityChanged, "Backup"), (move.From, move.To, move.Cause, reading.Name(move.MovedBy)));
        Assert.Equal(TrafficScript.At(6), move.Time);

        using WhoWinsReading merge = new(new UniverseId(UniverseProtocol.ArtNet, 1));
        merge.ReadTo(TrafficScript.At(8));
        move = merge.Ask(1).Cases[0].Moved!;
        Assert.Equal((100, 11, ChangeCause.LevelChanged, "A"), (move.From, move.To, move.Cause, merge.Name(move.MovedBy)));
        Assert.Equal(TrafficScript.At(7), move.Time);
    }

    [Fact]
    public void A_third_sender_is_named_as_left_out()
    {
        using WhoWinsReading reading = new(new UniverseId(UniverseProtocol.ArtNet, 1));
        reading.ReadTo(TrafficScript.At(5.8));
        Assert.Equal("A:200 B:100 C:255(left out)", string.Join(' ', reading.Ask(2).Contenders.Select(each =>
            string.Create(CultureInfo.InvariantCulture, $"{reading.Name(each.Sender)}:{each.Value}{(each.LeftOut ? "(left out)" : "")}"))));
    }

    [Fact]
    public void A_frozen_universe_says_what_it_waits_for()
    {
        using WhoWinsReading reading = new(new UniverseId(UniverseProtocol.Sacn, 3));
        reading.ReadTo(TrafficScript.At(2));
        Assert.Equal((SyncState.Held, 7962), (reading.Ask(1).Sync, reading.Ask(1).SyncAddress));
        reading.ReadTo(TrafficScript.At(3.65));
        SlotAnswer answer = reading.Ask(1);
        Assert.Equal((SyncState.Frozen, 7962, TrafficScript.At(1)), (answer.Sync, answer.SyncAddress, answer.LastSync));
        reading.ReadTo(TrafficScript.At(5.2));
        Assert.Equal(SyncState.None, reading.Ask(1).Sync);
    }
}
