using System.Globalization;
using System.Text.Json;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Video;

/// <summary>Reads the JSON in which ffprobe describes a file. The names in it come from the file and are not trusted.</summary>
public static class VideoFactsReader
{
    private const int LargestSide = 1 << 16;

    /// <summary>Reads a description.</summary>
    /// <param name="json">Streams (codec_type, width, height, rates, duration, color_transfer, disposition, side data, tags) and format.</param>
    /// <returns>The facts; null when it is no such JSON.</returns>
    public static VideoFacts? Read(string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        try
        {
            using JsonDocument page = JsonDocument.Parse(json);
            return page.RootElement.ValueKind == JsonValueKind.Object ? Facts(page.RootElement) : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static VideoFacts Facts(JsonElement root)
    {
        JsonElement format = Member(root, "format");
        double seconds = Number(format, "duration");
        Timestamp? created = Created(format);
        bool sound = false;
        foreach (JsonElement stream in Items(root, "streams"))
        {
            string kind = Text(stream, "codec_type");
            sound |= kind == "audio";
            int width = Side(stream, "width");
            int height = Side(stream, "height");
            if (kind != "video" || Number(Member(stream, "disposition"), "attached_pic") != 0 || width == 0 || height == 0)
            {
                continue;
            }

            bool turned = Math.Abs(Rotation(stream)) % 180 is > 45 and < 135;
            double rate = Ratio(Text(stream, "avg_frame_rate"));
            return new VideoFacts(
                turned ? height : width,
                turned ? width : height,
                rate > 0 ? rate : Ratio(Text(stream, "r_frame_rate")),
                seconds > 0 ? seconds : Number(stream, "duration"),
                ToneCurve.Named(Text(stream, "color_transfer")),
                created ?? Created(stream),
                sound || Items(root, "streams").Any(other => Text(other, "codec_type") == "audio"));
        }

        return new VideoFacts(0, 0, 0, seconds, ToneCurve.Bt709, created, sound);
    }

    private static double Rotation(JsonElement stream)
    {
        foreach (JsonElement data in Items(stream, "side_data_list"))
        {
            if (Member(data, "rotation").ValueKind != JsonValueKind.Undefined)
            {
                return Number(data, "rotation");
            }
        }

        return Number(Member(stream, "tags"), "rotate");
    }

    // The tag with a zone is written by phones that know the time of day there; the other one is UTC by its definition.
    private static Timestamp? Created(JsonElement holder)
    {
        JsonElement tags = Member(holder, "tags");
        foreach (string name in new[] { "com.apple.quicktime.creationdate", "creation_time" })
        {
            if (DateTimeOffset.TryParse(
                Text(tags, name), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out DateTimeOffset moment)
                && moment.Year is >= 2000 and <= 2261)
            {
                return Timestamp.FromUnixNanoseconds((moment - DateTimeOffset.UnixEpoch).Ticks * 100);
            }
        }

        return null;
    }

    private static JsonElement Member(JsonElement holder, string name) =>
        holder.ValueKind == JsonValueKind.Object && holder.TryGetProperty(name, out JsonElement value) ? value : default;

    private static JsonElement.ArrayEnumerator Items(JsonElement holder, string name) =>
        Member(holder, name) is { ValueKind: JsonValueKind.Array } list ? list.EnumerateArray() : default;

    private static string Text(JsonElement holder, string name) =>
        Member(holder, name) is { ValueKind: JsonValueKind.String } text ? text.GetString() ?? "" : "";

    private static double Number(JsonElement holder, string name)
    {
        JsonElement value = Member(holder, name);
        double number = 0;
        bool known = value.ValueKind switch
        {
            JsonValueKind.Number => value.TryGetDouble(out number),
            JsonValueKind.String => double.TryParse(value.GetString(), NumberStyles.Float, CultureInfo.InvariantCulture, out number),
            _ => false,
        };
        return known && double.IsFinite(number) ? number : 0;
    }

    private static int Side(JsonElement stream, string name) => Number(stream, name) is >= 1 and <= LargestSide and double side ? (int)side : 0;

    private static double Ratio(string text)
    {
        string[] parts = text.Split('/');
        return parts.Length == 2
            && double.TryParse(parts[0], NumberStyles.Float, CultureInfo.InvariantCulture, out double above)
            && double.TryParse(parts[1], NumberStyles.Float, CultureInfo.InvariantCulture, out double below)
            && above > 0 && below > 0 && double.IsFinite(above / below) ? above / below : 0;
    }
}
