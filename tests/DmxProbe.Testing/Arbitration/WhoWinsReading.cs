using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Universes;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;

namespace DmxProbe.Testing.Arbitration;

/// <summary>captures/arbitration/who-wins.pcapng, read up to a time, and what the arbitration makes of it in short words.</summary>
public sealed class WhoWinsReading : IDisposable
{
    private readonly ICaptureSource _source = CaptureFile.Open(Path.Combine([Places.Repository, "captures", .. WhoWins.File.Split('/')]));
    private readonly RecordDecoder _decoder = new();
    private readonly LevelAnalyzer _levels = new();
    private readonly ArbitrationAnalyzer _arbitration;
    private readonly FanOut _all;
    private readonly UniverseId _universe;
    private (Timestamp Time, byte[] Data, LinkType Link, long Number)? _next;

    /// <summary>Opens the capture.</summary>
    /// <param name="follow">The universe followed slot by slot; null for none.</param>
    /// <param name="universe">The universe asked about, where it is not that.</param>
    public WhoWinsReading(UniverseId? follow, UniverseId? universe = null)
    {
        _universe = universe ?? follow!.Value;
        _arbitration = new ArbitrationAnalyzer(_levels) { Follow = follow is null ? null : id => id == follow };
        _all = new FanOut(_levels, _arbitration);
    }

    /// <summary>Reads on, up to and with a time.</summary>
    public void ReadTo(Timestamp at)
    {
        while (true)
        {
            if (_next is null)
            {
                if (_source.Read(out CaptureRecord read) != ReadStatus.Record)
                {
                    break;
                }

                _next = (read.Time, read.Data.ToArray(), read.LinkType, read.Number);
            }

            (Timestamp time, byte[] data, LinkType link, long number) = _next.Value;
            if (time > at)
            {
                break;
            }

            _next = null;
            _decoder.Decode(
                new CaptureRecord { Time = time, Number = number, Kind = RecordKind.Packet, LinkType = link, InterfaceId = 0, OriginalLength = data.Length, Data = data },
                _all);
        }

        _all.OnTime(at);
    }

    /// <summary>Who decides a slot at the time read to.</summary>
    public SlotAnswer Ask(int slot) => _arbitration.Ask(Index(), slot)!;

    /// <summary>What the script calls a sender.</summary>
    public string Name(int sender) => sender < 0 ? "-" : _decoder.Senders.Describe(sender) is { Name.Length: > 0 } told ? told.Name
        : _decoder.Senders.Describe(sender).Address switch { "10.20.0.21" => "A", "10.20.0.22" => "B", _ => "C" };

    /// <summary>The answer about a slot as <see cref="WhoWinsByHand"/> writes it.</summary>
    public string Words(int slot) => string.Join("; ", Ask(slot).Cases.Select(each => string.Create(
        CultureInfo.InvariantCulture,
        $"{(each.Condition == WinCondition.Always ? "" : each.Condition + ": ")}{Names(each.Senders)} {each.Rule} = {(each.Value < 0 ? "?" : each.Value)}")));

    /// <summary>Who decides which slots.</summary>
    public IReadOnlyList<string> Winners() => [.. (_arbitration.Snapshot(Index())?.Winners ?? []).Select(range =>
        $"{range.FromSlot}-{range.ToSlot} {string.Join("; ", range.Cases.Select(each => $"{each.Condition} {Names(each.Senders)} {each.Rule}"))}")];

    /// <summary>How that changed.</summary>
    public IReadOnlyList<string> Changes() => [.. _arbitration.Snapshot(Index())!.Changes.Select(change => string.Create(
        CultureInfo.InvariantCulture,
        $"{(change.Time - TrafficScript.Start).TotalSeconds:0.00} {change.FromSlot}-{change.ToSlot} {change.Condition} {Names(change.Before)} -> {Names(change.After)} {change.Rule} by {change.Cause} {Name(change.CausedBy)}"))];

    /// <inheritdoc/>
    public void Dispose() => _source.Dispose();

    private string Names(IReadOnlyList<int> senders) => senders.Count == 0 ? "nobody" : string.Join('+', senders.Select(Name));

    private int Index() => Enumerable.Range(0, _decoder.Streams.UniverseCount).First(index => _decoder.Streams.Universe(index) == _universe);
}
