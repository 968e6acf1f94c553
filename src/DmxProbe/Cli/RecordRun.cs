using System.CommandLine;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Live;
using DmxProbe.Capture.Recording;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli;

/// <summary>One run of <c>record</c>.</summary>
internal sealed class RecordRun(ProgramHost host, CommonOptions common, ParseResult parsed)
{
    private const int RecordsPerLook = 256;
    private static readonly TimeSpan FaultsEvery = TimeSpan.FromSeconds(5);
    private static readonly Duration UsualSegment = Duration.FromSeconds(600);
    private static readonly Duration LongestRingSegment = Duration.FromSeconds(60);

    private readonly HashSet<(string Id, string Subject)> _faults = [];

    public required IReadOnlyList<string> Inputs { get; init; }

    public required string Folder { get; init; }

    public Duration? Ring { get; init; }

    public required LiveAsked Live { get; init; }

    public (Duration? Time, long? Size)? Segment { get; init; }

    public bool Plain { get; init; }

    /// <summary>Records until the inputs end, the time is over, or Ctrl-C.</summary>
    public int Run()
    {
        Cli.Inputs.Check(Inputs, Live);
        Duration? inRing = Ring is Duration ring ? (ring / 10 < LongestRingSegment ? ring / 10 : LongestRingSegment) : null;
        using RecordProgress progress = new(host, Plain, Folder);
        if (!Inputs.Any(Cli.Inputs.IsLive) && Directory.Exists(Folder) && Directory.EnumerateFiles(Folder, "*.pcapng").Any())
        {
            // The same moments twice in one folder look like a network that repeats every packet.
            throw new UsageException($"{Folder}: there is a recording in this folder already, and a capture copied beside it would be read together with it; give -o another folder");
        }

        // Before anything is opened: joining groups for a recording that cannot be is traffic for nothing.
        IReadOnlyList<string> made = Recorder.MakeFolder(Folder);
        try
        {
            return Record(progress, inRing);
        }
        finally
        {
            Recorder.RemoveEmpty(made); // an input that could not be opened leaves nothing behind
        }
    }

    private int Record(RecordProgress progress, Duration? inRing)
    {
        Recorder? running = null;
        LiveSettings settings = Live.Settings with
        {
            // What befalls an input while it is recorded belongs into the recording.
            Tell = notice =>
            {
                progress.Say(notice.Text);
                running?.Mark(notice.Text, isNotice: true);
            },
        };
        using ICaptureSource inner = Cli.Inputs.OpenMerged(Inputs, Live with { Settings = settings });
        using Recorder recorder = new(new RecorderSettings
        {
            Folder = Folder,
            Clock = host.Clock,
            Application = "DmxProbe " + DmxProbeProgram.Version,
            Inputs = Inputs,
            Ring = Ring,
            SegmentTime = Segment is null ? inRing ?? UsualSegment : Segment.Value.Time,
            SegmentSize = Segment?.Size,
            Tell = notice => progress.Say(notice.Text),
        });
        running = recorder;
        progress.Watch(recorder);
        host.EndsByItself();
        RecordKeys? keys = host.ReadKey is null ? null : new RecordKeys(host.ReadKey, text => recorder.Mark(text), progress);
        keys?.Start();
        using RecordingSource source = new(inner, recorder);
        Pump(source, recorder, progress);
        recorder.Finish();
        progress.Dispose();
        return Answer(recorder.Status, source.Problem);
    }

    private void Pump(RecordingSource source, Recorder recorder, RecordProgress progress)
    {
        RecordDecoder decoder = new();
        SurveyAnalyzer survey = new();
        TimeProvider clock = host.Clock;
        long judged = clock.GetTimestamp();
        bool endsByItself = Inputs.Any(Cli.Inputs.IsLive);
        int untilLook = RecordsPerLook;
        while (true)
        {
            ReadStatus status = source.Read(out CaptureRecord record);
            if (status == ReadStatus.End)
            {
                return;
            }

            if (status == ReadStatus.Record)
            {
                if (Ring is not null)
                {
                    decoder.Decode(in record, survey);
                }

                if (--untilLook > 0)
                {
                    continue;
                }
            }

            untilLook = RecordsPerLook;

            // Live inputs end by themselves after the time or Ctrl-C, when what they still hold has been read.
            if (!endsByItself && host.Stop.IsCancellationRequested)
            {
                return;
            }

            if (Ring is not null && clock.GetElapsedTime(judged) >= FaultsEvery)
            {
                judged = clock.GetTimestamp();
                survey.OnTime(record.Time);
                SaveForFaults(survey.Snapshot(decoder, []), recorder, progress);
            }
        }
    }

    private void SaveForFaults(SurveySnapshot snapshot, Recorder recorder, RecordProgress progress)
    {
        foreach (Finding finding in snapshot.Findings)
        {
            if (finding.Severity == Severity.Fault && _faults.Add((finding.Id, finding.Subject)))
            {
                recorder.Save("fault: " + finding.Text);
                progress.Say("a fault, so the ring is kept: " + finding.Text);
            }
        }
    }

    private int Answer(RecorderStatus status, InputProblem? problem)
    {
        bool lost = status.NotRecorded > 0 || status.LostBySource > 0;
        if (parsed.GetValue(common.Json))
        {
            RecordedRun run = new(
                Folder,
                status.Records,
                status.Marks,
                status.Octets,
                status.Segments,
                status.Deleted,
                status.LostBySource,
                status.NotRecorded,
                status.LongestAtRisk.TotalMilliseconds);
            JsonOutput.Write(host, stream => RecordJson.Write(stream, run));
        }
        else
        {
            TextPage page = common.Page(parsed, host);
            page.Paragraph(
                $"Recorded {Figures.Count(status.Records, "record")} with {Figures.Count(status.Marks, "mark")} into {Folder}: {Figures.Count(status.Segments, "file")}, {status.Octets / 1e6:0.0} MB.",
                tone: lost ? Tone.Plain : Tone.Good);
            if (status.Deleted > 0)
            {
                page.Paragraph($"The ring deleted {Figures.Count(status.Deleted, "file")} of its own that nothing asked to keep.");
            }

            if (status.LostBySource > 0)
            {
                page.Paragraph($"{Figures.Count(status.LostBySource, "record")} lost before they reached the recorder; the recording says where.", tone: Tone.Warning);
            }

            if (status.NotRecorded > 0)
            {
                page.Paragraph($"{Figures.Count(status.NotRecorded, "record")} came while nothing could be written; the recording says where.", tone: Tone.Fault);
            }

            if (problem is not null)
            {
                page.Paragraph($"The input ended early: {problem}", tone: Tone.Warning);
            }

            page.Paragraph(status.Segments > 0
                ? $"To look at it: dmxprobe survey {Printable.Text(Folder)}"
                : "Nothing came in, so there is no file to look at: dmxprobe inputs shows what is connected.");
            page.WriteTo(host.Output);
        }

        // Nothing recorded from a live input is not "nothing wrong": whoever wakes up to it has no show.
        return lost || (status.Records == 0 && Inputs.Any(Cli.Inputs.IsLive)) ? ExitCode.FaultsFound : ExitCode.Clean;
    }
}
