using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Archive;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary>One run of <c>record pack</c>.</summary>
internal static class PackRun
{
    /// <summary>Packs a recording.</summary>
    /// <param name="input">The folder or file.</param>
    /// <param name="archive">The folder of the archive.</param>
    /// <param name="show">Name of the show.</param>
    /// <param name="venue">Name of the venue.</param>
    /// <param name="sheet">The sheet; null: none.</param>
    /// <param name="map">The map as given; null = find it.</param>
    /// <param name="host">The process.</param>
    /// <exception cref="UsageException">The recording or the map does not serve; one sentence.</exception>
    public static PackResult Run(string input, string archive, string show, string venue, SheetInUse? sheet, string? map, ProgramHost host)
    {
        UniverseMap? given = UniverseMap.Given(map, sheet?.Patch);
        using ICaptureSource source = CaptureFile.Open(input, LineFileOptions.None);
        if (File.Exists(archive))
        {
            throw new UsageException($"{archive}: this is a file; name a folder for the archive after -o");
        }

        (string key, bool isUndated) = Key(input);
        using ArchiveFolder folder = new(archive);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        ArchiveShow of = new(show, venue, key) { IsUndated = isUndated };
        using ShowPacker packer = new(decoder, of, folder.Create);
        host.EndsByItself(); // after Ctrl-C the files that were begun are taken away first
        host.SaysOnStop(ProgramHost.NothingWritten);
        SurveySnapshot survey;
        using (WaitLine wait = new(host, "packing"))
        {
            survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, packer, wait), host.Stop);
            host.Stop.ThrowIfCancellationRequested();
            packer.Finish();
        }

        host.Stop.ThrowIfCancellationRequested();
        NoRecords.Refuse(survey.Inputs, "pack");
        if (packer.Frames == 0 || survey.First is not Timestamp first)
        {
            throw new UsageException($"{input}: no levels were recorded, so there is nothing to pack; survey says what is in it");
        }

        string[] missing = [.. survey.Inputs.Where(each => each.Cut is not null).Select(each => $"{each.Name} ends early; what is whole was packed: {each.Cut}")];
        List<string> notes = [.. missing, .. survey.Inputs.SelectMany(each => each.Notes)];
        if (isUndated)
        {
            notes.Add("It has no date: it stands under date=undated, its times count from its start as if that were 1970, and it is known again by its name alone; name the file after the night, or packing another of this name replaces it.");
        }

        FindingsTable.Write(of, survey, folder.Create);
        if (sheet is not null)
        {
            UniverseMap found = UniverseMap.Detect(sheet.Patch.Universes, survey.Universes.Select(universe => universe.Id), sheet.Patch.UniverseBase, given);
            UnitsTable.Write(of, first, sheet.Patch.Units, sheet.Charts, found.Wire, folder.Create);
            int unknown = sheet.Patch.Units.Count(unit => !found.Wire.ContainsKey(unit.Universe));
            if (unknown > 0)
            {
                notes.Add(string.Create(CultureInfo.InvariantCulture, $"{unknown} units of the sheet are left out: their universe was not found in the recording (--map says which it is)"));
            }
        }

        folder.Commit();
        return new PackResult(archive, of.Folder, of.Recording, packer.Frames, packer.Values, folder.Files, folder.Octets, Length(input), notes) { IsCut = missing.Length > 0 };
    }

    // The same recording is known again by its name and its first moment; a line recording has none.
    private static (string Key, bool IsUndated) Key(string input)
    {
        using ICaptureSource source = CaptureFile.Open(input, LineFileOptions.None);
        bool isEmpty = source.Read(out CaptureRecord record) != ReadStatus.Record;
        bool isUndated = source.Interfaces.Count > 0 && source.Interfaces.All(each => each.StampedBy == StampedBy.SampleClock);
        string first = isEmpty ? ""
            : isUndated ? "undated"
            : DateTime.UnixEpoch.AddTicks(record.Time.UnixNanoseconds / 100).ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);
        string key = ArchiveNames.Slug(Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(input))), "recording") + "-" + first.ToLowerInvariant();
        return (key, isUndated);
    }

    private static long Length(string input) => Directory.Exists(input)
        ? Directory.EnumerateFiles(input, "*" + Capture.Recording.RecordedFolder.SegmentSuffix).Sum(file => new FileInfo(file).Length)
        : new FileInfo(input).Length;
}
