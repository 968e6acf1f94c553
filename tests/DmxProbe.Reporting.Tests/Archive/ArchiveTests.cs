using System.Numerics;
using System.Text.RegularExpressions;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Archive;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Shows;

using DuckDB.NET.Data;

namespace DmxProbe.Reporting.Tests.Archive;

/// <summary>Every statement of docs/archive.md, run by DuckDB over three shows, against what was sent.</summary>
public sealed partial class ArchiveTests(ArchiveFixture archive) : IClassFixture<ArchiveFixture>
{
    private static readonly Dictionary<string, string> Statements = Documented();

    [SkippableFact]
    public void Every_level_of_every_frame_comes_back_with_its_time_to_the_microsecond()
    {
        using DuckDBConnection database = Open(archive.Folder);
        ComesBack(database);
    }

    [SkippableFact]
    public void With_little_room_row_groups_and_segments_are_smaller_and_everything_comes_back()
    {
        string folder = Directory.CreateTempSubdirectory("dmxprobe-archive-").FullName;
        try
        {
            ArchiveFixture.Pack(folder, ArchiveFixture.Orchard, new ArchiveShow("The Glass Orchard", "Harbour Hall", "friday"), sheetUniverses: 2, mostOctets: 100_000);
            using DuckDBConnection database = Open(folder, findings: false);
            ComesBack(database);
            long segments = 0;
            Read(database, "SELECT count(DISTINCT segment) FROM frames", row => segments = row.GetInt64(0));
            Assert.True(segments > 2 * ArchiveFixture.Orchard.Seconds / 10, $"{segments} segments");
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [SkippableFact]
    public void A_recording_without_a_date_is_asked_beside_those_that_have_one()
    {
        string folder = Directory.CreateTempSubdirectory("dmxprobe-archive-").FullName;
        try
        {
            ArchiveFixture.Pack(folder, ArchiveFixture.Orchard, new ArchiveShow("The Glass Orchard", "Harbour Hall", "friday"), sheetUniverses: 2);
            ArchiveFixture.Pack(folder, ArchiveFixture.Harbour, new ArchiveShow("Bench", "", "line-undated") { IsUndated = true }, sheetUniverses: 0);
            using DuckDBConnection database = Open(folder, findings: false);
            ComesBack(database);
            int levels = 0;
            Read(database, Statements["Levels at a cue"], _ => levels++);
            Assert.Equal(512, levels);
            List<string> dates = [];
            Read(database, "SELECT DISTINCT date::VARCHAR FROM levels ORDER BY 1", row => dates.Add(row.GetString(0)));
            Assert.Equal(["2026-03-14", "undated"], dates);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [SkippableFact]
    public void The_levels_at_a_moment_are_those_of_the_last_frame_before_it()
    {
        using DuckDBConnection database = Open(archive.Folder);
        List<int> levels = [];
        Read(database, Statements["Levels at a cue"], row =>
        {
            Assert.Equal("controller 1", row.GetString(0));
            Assert.Equal(levels.Count + 1, row.GetInt32(1));
            levels.Add(row.GetInt32(2));
        });
        long asked = new DateTimeOffset(2026, 3, 14, 20, 0, 10, TimeSpan.Zero).ToUnixTimeMilliseconds() * 1000;
        byte[] last = Sent(ArchiveFixture.Orchard, 2).Last(frame => frame.Micros <= asked).Slots;
        Assert.Equal(last.Select(level => (int)level), levels);
    }

    [SkippableFact]
    public void Every_time_a_unit_went_dark_is_found_and_no_other()
    {
        using DuckDBConnection database = Open(archive.Folder);
        List<long> found = [];
        Read(database, Statements["Every time a unit went dark"], row => found.Add(row.GetInt64(2)));
        List<(long Micros, byte[] Slots)> sent = Sent(ArchiveFixture.Orchard, 1);
        int slot = ShowRig.Address(6) - 1;
        List<long> dark = [.. Enumerable.Range(1, sent.Count - 1).Where(i => sent[i].Slots[slot] == 0 && sent[i - 1].Slots[slot] > 0).Select(i => sent[i].Micros)];
        Assert.NotEmpty(dark);
        Assert.Equal(dark, found);
    }

    [SkippableFact]
    public void Faults_are_counted_by_venue()
    {
        using DuckDBConnection database = Open(archive.Folder);
        Dictionary<string, long> faults = [];
        Read(database, Statements["Faults by venue"], row => faults[row.GetString(0)] = row.GetInt64(1));
        Assert.True(faults["Old Mill"] > 0, string.Join(", ", faults));
    }

    [SkippableFact]
    public void All_shows_are_one_table_and_one_of_them_has_a_thousand_million_levels()
    {
        using DuckDBConnection database = Open(archive.Folder);
        Dictionary<string, (long Values, long Changes)> shows = [];
        Read(database, Statements["How much there is of each show"], row => shows[row.GetString(0)] = ((long)(BigInteger)row.GetValue(2), (long)(BigInteger)row.GetValue(3)));
        Assert.Equal(["long-night", "pecheurs-d-islande-acte-2", "the-glass-orchard"], shows.Keys.Order());
        Assert.True(archive.BigValues >= 1_000_000_000, $"{archive.BigValues}");
        Assert.Equal(archive.BigValues, shows["long-night"].Values);
    }

    [SkippableFact]
    public void The_busiest_units_are_told_by_name()
    {
        using DuckDBConnection database = Open(archive.Folder);
        List<(string Unit, long Changes)> units = [];
        Read(database, Statements["Which units worked most"], row => units.Add((row.GetString(0), (long)(BigInteger)row.GetValue(1))));
        Assert.Equal(10, units.Count);
        Assert.Equal(units.OrderByDescending(unit => unit.Changes).Select(unit => unit.Changes), units.Select(unit => unit.Changes));
    }

    [Fact]
    public void Every_statement_of_the_page_is_run_here() => Assert.Equal(
        ["Every time a unit went dark", "Faults by venue", "How much there is of each show", "Levels at a cue", "The tables", "Which units worked most"],
        Statements.Keys.Order());

    private static void ComesBack(DuckDBConnection database)
    {
        foreach (int universe in new[] { 1, 2 })
        {
            List<(long Micros, byte[] Slots)> sent = Sent(ArchiveFixture.Orchard, universe);
            Dictionary<(int Segment, int Slot), int[]> levels = [];
            Read(database, $"SELECT segment, slot, levels, frames FROM levels WHERE show_key = 'the-glass-orchard' AND universe = 'sacn-{universe}'", row =>
                levels[(row.GetInt32(0), row.GetInt32(1))] = [.. ((IEnumerable<int>)row.GetValue(2))]);
            int at = 0;
            Read(database, $"SELECT segment, frame, time_us, slot_count FROM frames WHERE show_key = 'the-glass-orchard' AND universe = 'sacn-{universe}' ORDER BY segment, frame", row =>
            {
                (long micros, byte[] slots) = sent[at++];
                Assert.Equal(micros, row.GetInt64(2));
                Assert.Equal(512, row.GetInt32(3));
                (int segment, int frame) = (row.GetInt32(0), row.GetInt32(1));
                for (int slot = 1; slot <= 512; slot++)
                {
                    int[] kept = levels[(segment, slot)];
                    Assert.Equal(slots[slot - 1], kept[Math.Min(frame, kept.Length) - 1]);
                }
            });
            Assert.Equal(sent.Count, at);
        }
    }

    private static List<(long Micros, byte[] Slots)> Sent(ShowPlan plan, int universe)
    {
        using CuedShow source = new(plan);
        Taker taker = new(new UniverseId(UniverseProtocol.Sacn, universe));
        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            decoder.Decode(in record, taker);
        }

        return taker.Frames;
    }

    private static void Read(DuckDBConnection database, string statement, Action<DuckDBDataReader> row)
    {
        using DuckDBCommand command = database.CreateCommand();
        command.CommandText = statement;
        using DuckDBDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            row(reader);
        }
    }

    // The statements under each heading of docs/archive.md.
    private static Dictionary<string, string> Documented()
    {
        Dictionary<string, string> found = [];
        string page = File.ReadAllText(Path.Combine(Places.Repository, "docs", "archive.md")).ReplaceLineEndings("\n");
        foreach (Match match in Section().Matches(page))
        {
            found.Add(match.Groups[1].Value, match.Groups[2].Value);
        }

        return found;
    }

    [GeneratedRegex("^## ([^\n]+)\n(?:(?!^## )[^\n]*\n)*?```sql\n(.*?)```", RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Section();

    private static DuckDBConnection Open(string folder, bool findings = true)
    {
        DuckDBConnection database;
        try
        {
            database = new DuckDBConnection("Data Source=:memory:");
            database.Open();
        }
        catch (Exception missing) when (missing is DllNotFoundException or TypeInitializationException or BadImageFormatException)
        {
            Skip.If(true, "DuckDB's native library is not there for this machine");
            throw;
        }

        // A table that no show of the archive has is no folder, and cannot be named.
        string tables = string.Join('\n', Statements["The tables"].Split('\n').Where(line => findings || !line.Contains("findings", StringComparison.Ordinal)));
        Read(database, tables.Replace("'archive/", "'" + folder.Replace("'", "''", StringComparison.Ordinal) + "/", StringComparison.Ordinal), _ => { });
        return database;
    }

    private sealed class Taker(UniverseId universe) : IFrameSink
    {
        public List<(long Micros, byte[] Slots)> Frames { get; } = [];

        public void OnFrame(in DmxFrame frame)
        {
            if (frame.Universe == universe && frame.StartCode == 0)
            {
                Frames.Add(((long)Math.Floor((decimal)frame.Time.UnixNanoseconds / 1000), frame.Slots.ToArray()));
            }
        }

        public void OnEvent(in LinkEvent linkEvent)
        {
        }
    }
}
