using System.Text.Json;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>Who decides slots, as JSON.</summary>
internal static class ArbitrationJson
{
    /// <summary>Writes ranges of slots with who decides them.</summary>
    /// <param name="json">Where to.</param>
    /// <param name="ranges">The ranges.</param>
    /// <param name="places">By index of a sender, its place in the page's list.</param>
    public static void Ranges(this Utf8JsonWriter json, IEnumerable<WinnerRange> ranges, IReadOnlyDictionary<int, int> places) =>
        json.Objects("winners", ranges, (writer, range) =>
        {
            writer.WriteNumber("fromSlot", range.FromSlot);
            writer.WriteNumber("toSlot", range.ToSlot);
            writer.Objects("cases", range.Cases, (inner, found) =>
            {
                Who(inner, found, places);
                inner.Time("since", found.Since);
            });
        });

    /// <summary>Writes changes of who decides.</summary>
    public static void Changes(this Utf8JsonWriter json, IEnumerable<WinnerChange> changes, IReadOnlyDictionary<int, int> places) =>
        json.Objects("winnerChanges", changes, (writer, change) =>
        {
            writer.Time("time", change.Time);
            writer.WriteNumber("fromSlot", change.FromSlot);
            writer.WriteNumber("toSlot", change.ToSlot);
            writer.WriteString("receiver", Word(change.Condition));
            writer.Numbers("before", Known(change.Before, places));
            writer.Numbers("after", Known(change.After, places));
            writer.WriteString("rule", Word(change.Rule));
            writer.WriteString("cause", Word(change.Cause));
            writer.Figure("causedBy", places.TryGetValue(change.CausedBy, out int place) ? place : null);
        });

    /// <summary>Writes one answer about a slot with its level and its last move.</summary>
    public static void Answer(this Utf8JsonWriter json, SlotAnswer answer, IReadOnlyDictionary<int, int> places)
    {
        json.Objects("cases", answer.Cases, (writer, found) =>
        {
            Who(writer, found, places);
            writer.Time("since", found.Since);
            writer.Figure("value", found.Value < 0 ? null : found.Value);
            if (found.Moved is SlotMove moved)
            {
                writer.WriteStartObject("moved");
                writer.Time("time", moved.Time);
                writer.Figure("from", moved.From < 0 ? null : moved.From);
                writer.Figure("to", moved.To < 0 ? null : moved.To);
                writer.WriteString("cause", Word(moved.Cause));
                writer.Figure("by", places.TryGetValue(moved.MovedBy, out int place) ? place : null);
                writer.WriteEndObject();
            }
            else
            {
                writer.WriteNull("moved");
            }
        });
        Sync(json, answer.Sync, answer.SyncAddress, answer.LastSync);
        json.WriteString("mergeMode", Word(answer.Mode));
    }

    /// <summary>Writes what synchronization does to a universe.</summary>
    public static void Sync(Utf8JsonWriter json, SyncState state, int address, Timestamp? last)
    {
        json.WriteString("sync", Word(state));
        json.Figure("syncAddress", address == 0 ? null : address);
        json.Time("lastSync", last);
    }

    /// <summary>A value of an enumeration as it is written.</summary>
    public static string Word<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.CamelCase.ConvertName(value.ToString());

    private static void Who(Utf8JsonWriter json, SlotCase found, IReadOnlyDictionary<int, int> places)
    {
        json.WriteString("receiver", Word(found.Condition));
        json.Numbers("senders", Known(found.Senders, places));
        json.WriteString("rule", Word(found.Rule));
        json.WriteBoolean("decided", found.IsDecided);
    }

    private static IEnumerable<int> Known(IReadOnlyList<int> senders, IReadOnlyDictionary<int, int> places) =>
        senders.Where(places.ContainsKey).Select(sender => places[sender]);
}
