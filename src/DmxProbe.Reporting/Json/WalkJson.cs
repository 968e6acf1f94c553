using System.Text.Json;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Walk;

namespace DmxProbe.Reporting.Json;

/// <summary>A function check as JSON.</summary>
public static class WalkJson
{
    /// <summary>Writes a function check.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="result">What was moved.</param>
    /// <param name="remarks">What does not fit the sheet.</param>
    /// <param name="order">The units in walking order, as indexes of the targets.</param>
    /// <param name="map">By sheet universe, what it is on the wire.</param>
    public static void Write(Stream output, WalkResult result, IReadOnlyList<WalkRemark> remarks, IReadOnlyList<int> order, IReadOnlyDictionary<int, UniverseId> map) =>
        JsonPage.Write(output, "walk", json =>
        {
            json.Map(map);
            json.WriteNumber("movesInCues", result.MovesInCues);
            json.WriteNumber("movesNotListed", result.MovesNotListed);
            json.Objects("remarks", remarks, (writer, remark) =>
            {
                writer.WriteString("id", remark.Id);
                writer.Time("time", remark.Move.From);
                writer.Text("text", remark.Text);
            });
            json.Objects("moves", result.Moves, (writer, move) => Move(writer, result, move));
            json.Objects("units", order, (writer, target) => Unit(writer, result, target));
        });

    private static void Move(Utf8JsonWriter json, WalkResult result, WalkMove move)
    {
        json.Time("from", move.From);
        json.Time("to", move.To);
        json.WriteString("label", move.Universe.Label);
        json.WriteNumber("slot", move.Slot);
        json.Objects("functions", move.Functions, (writer, function) =>
        {
            writer.Text("unit", result.Targets[result.Functions[function].Target].Unit.Unit);
            writer.Text("function", result.Functions[function].Name);
        });
        json.WriteNumber("first", move.First);
        json.WriteNumber("last", move.Last);
        json.WriteNumber("lowest", move.Lowest);
        json.WriteNumber("highest", move.Highest);
        json.WriteString("kind", JsonNamingPolicy.CamelCase.ConvertName(move.Kind.ToString()));
        json.WriteNumber("others", move.Others);
    }

    private static void Unit(Utf8JsonWriter json, WalkResult result, int target)
    {
        WalkTarget unit = result.Targets[target];
        json.Text("unit", unit.Unit.Unit);
        json.Text("position", unit.Unit.Position);
        json.WriteNumber("sheetUniverse", unit.Unit.Universe);
        json.WriteNumber("address", unit.Unit.Address);
        json.Objects("functions", result.Functions.Where(function => function.Target == target), (writer, function) =>
        {
            writer.WriteNumber("slot", function.Slot);
            writer.Text("function", function.Name);
            writer.WriteString("state", function.Exercised ? "exercised" : function.Danger.Length > 0 ? "notToBeExercised" : function.DoesNothing ? "doesNothing" : "neverExercised");
            writer.TextOrNull("danger", function.Danger);
            writer.WriteNumber("alone", function.Alone);
            writer.WriteNumber("together", function.Together);
            writer.WriteNumber("inCue", function.InCue);
            writer.Texts("rangesVisited", function.Chart is null ? [] : function.Chart.Ranges.Where((_, index) => function.Visited[index]).Select(range => range.Meaning));
        });
    }
}
