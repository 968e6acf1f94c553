using System.Text.Json;

using DmxProbe.Reporting.Tables;

namespace DmxProbe.Reporting.Tests.Tables;

public class JsonTableWriterTests
{
    [Fact]
    public void A_table_is_an_object_with_the_rows_under_its_name()
    {
        using MemoryStream output = new();
        using JsonTableWriter table = new(Filled.Spec, output);
        Filled.Fill(table);
        using JsonDocument page = JsonDocument.Parse(output.ToArray());
        Assert.Equal("export", page.RootElement.GetProperty("command").GetString());
        JsonElement rows = page.RootElement.GetProperty("test");
        Assert.Equal(Filled.Texts.Length, rows.GetArrayLength());
        Assert.Equal(JsonValueKind.Null, rows[0].GetProperty("level").ValueKind);
        Assert.Equal(Filled.Texts[1], rows[1].GetProperty("name").GetString());
        Assert.Equal(long.MinValue + 1, rows[1].GetProperty("count").GetInt64());
        Assert.Equal("2026-03-14T19:41:00.007692103Z", rows[2].GetProperty("time").GetString());
        Assert.Equal("0002FF", rows[2].GetProperty("slots").GetString());
        Assert.Equal("\ud83d\ude00 and half \ufffd", rows[8].GetProperty("name").GetString());
    }
}
