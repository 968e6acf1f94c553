using System.Globalization;
using System.Text;
using System.Text.Json;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>
/// What every JSON page has in common: the schema number first, times as ISO 8601 in UTC, no NaN, and every character
/// beyond ASCII escaped (a page may be shown in a terminal).
/// </summary>
internal static class JsonPage
{
    /// <summary>The schema number; it rises when a field changes its meaning or goes.</summary>
    private const int Schema = 1;

    /// <summary>Writes one page.</summary>
    /// <param name="output">Where to; left open.</param>
    /// <param name="command">The command whose answer it is.</param>
    /// <param name="body">Writes the fields.</param>
    public static void Write(Stream output, string command, Action<Utf8JsonWriter> body)
    {
        using Utf8JsonWriter json = Begin(output, command);
        body(json);
        json.WriteEndObject();
        json.Flush();
        output.WriteByte((byte)'\n');
    }

    /// <summary>Begins a page whose fields are written as they come; the caller ends the object.</summary>
    /// <param name="output">Where to; left open.</param>
    /// <param name="command">The command whose answer it is.</param>
    public static Utf8JsonWriter Begin(Stream output, string command)
    {
        Utf8JsonWriter json = new(output, new JsonWriterOptions { Indented = true, NewLine = "\n" });
        json.WriteStartObject();
        json.WriteNumber("schema", Schema);
        json.WriteString("command", command);
        return json;
    }

    /// <summary>Writes untrusted text; half a surrogate pair becomes U+FFFD, which is all that UTF-8 can say of it.</summary>
    public static void Text(this Utf8JsonWriter json, string name, string? value)
    {
        if (value is null)
        {
            json.WriteNull(name);
        }
        else
        {
            json.WriteString(name, WellFormed(value));
        }
    }

    /// <summary>Writes text, or null where there is none.</summary>
    public static void TextOrNull(this Utf8JsonWriter json, string name, string value) =>
        json.Text(name, value.Length == 0 ? null : value);

    /// <summary>Writes an array of untrusted texts.</summary>
    public static void Texts(this Utf8JsonWriter json, string name, IEnumerable<string> values)
    {
        json.WriteStartArray(name);
        foreach (string value in values)
        {
            json.WriteStringValue(WellFormed(value));
        }

        json.WriteEndArray();
    }

    /// <summary>Writes an array of whole numbers.</summary>
    public static void Numbers(this Utf8JsonWriter json, string name, IEnumerable<int> values)
    {
        json.WriteStartArray(name);
        foreach (int value in values)
        {
            json.WriteNumberValue(value);
        }

        json.WriteEndArray();
    }

    /// <summary>Writes a figure to six decimals; null where there is none or it is not finite.</summary>
    public static void Figure(this Utf8JsonWriter json, string name, double? value)
    {
        if (value is double figure && double.IsFinite(figure))
        {
            json.WriteNumber(name, Math.Round(figure, 6));
        }
        else
        {
            json.WriteNull(name);
        }
    }

    /// <summary>Writes a moment; null where there is none. The default value is never a moment of a capture.</summary>
    public static void Time(this Utf8JsonWriter json, string name, Timestamp? value)
    {
        if (value is Timestamp moment && moment != default)
        {
            json.WriteString(name, moment.ToString());
        }
        else
        {
            json.WriteNull(name);
        }
    }

    /// <summary>Writes <c>first</c> and <c>last</c>: when something was seen first and last.</summary>
    public static void Span(this Utf8JsonWriter json, Timestamp? first, Timestamp? last)
    {
        json.Time("first", first);
        json.Time("last", last);
    }

    /// <summary>Writes <c>protocol</c>, <c>number</c> and <c>label</c> of a universe into the object that is open.</summary>
    public static void Universe(this Utf8JsonWriter json, UniverseId universe)
    {
        json.WriteString("protocol", JsonWords.Of(universe.Protocol));
        json.WriteNumber("number", universe.Number);
        json.WriteString("label", universe.Label);
    }

    /// <summary>Writes counts as an object whose names are the values counted.</summary>
    public static void Counts(this Utf8JsonWriter json, string name, IEnumerable<CountOf> counts)
    {
        json.WriteStartObject(name);
        foreach (CountOf count in counts)
        {
            json.WriteNumber(count.Value.ToString(CultureInfo.InvariantCulture), count.Count);
        }

        json.WriteEndObject();
    }

    /// <summary>Writes interval statistics in milliseconds; null where there are none.</summary>
    public static void Intervals(this Utf8JsonWriter json, string name, IntervalStatistics? intervals)
    {
        if (intervals is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        json.WriteNumber("count", intervals.Count);
        json.Figure("min", intervals.Minimum.TotalMilliseconds);
        json.Figure("mean", intervals.Mean.TotalMilliseconds);
        json.Figure("median", intervals.Median.TotalMilliseconds);
        json.Figure("p95", intervals.P95.TotalMilliseconds);
        json.Figure("p99", intervals.P99.TotalMilliseconds);
        json.Figure("max", intervals.Maximum.TotalMilliseconds);
        json.WriteEndObject();
    }

    /// <summary>Writes an array of objects.</summary>
    public static void Objects<T>(this Utf8JsonWriter json, string name, IEnumerable<T> items, Action<Utf8JsonWriter, T> body)
    {
        json.WriteStartArray(name);
        foreach (T item in items)
        {
            json.WriteStartObject();
            body(json, item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static string WellFormed(string text)
    {
        for (int i = 0; i < text.Length; i++)
        {
            if (char.IsSurrogate(text[i]))
            {
                // Encoding replaces each half that stands alone and leaves pairs as they are.
                return Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text));
            }
        }

        return text;
    }
}
