using System.Buffers.Binary;
using System.IO.Compression;
using System.Text.Json;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Decoding.Line;

/// <summary>
/// The real line recordings of the shared folder, read by twenty lines that share nothing with the program's own reader,
/// and what an independent edge reader made of them (captures/PROVENANCE.md there).
/// </summary>
internal sealed class SharedLine : ICaptureSource
{
    private readonly List<(int Channel, byte[] Run)> _runs = [];
    private int _next;

    private SharedLine(string path, long rate, long ticksPerSecond)
    {
        Name = Path.GetFileName(path);
        List<CaptureInterface> channels = [];
        Dictionary<string, int> byId = [];
        List<List<(long Tick, bool High)>> levels = [];
        long now = 0;
        foreach (string line in File.ReadLines(path))
        {
            string[] words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            if (words is ["$var", ..])
            {
                byId[words[3]] = channels.Count;
                channels.Add(new CaptureInterface(
                    channels.Count, string.Join(' ', words[4..^1]), "", LinkType.None, 0, Duration.FromSeconds(1.0 / rate), StampedBy.SampleClock)
                {
                    Content = InterfaceContent.Line,
                    TicksPerSecond = ticksPerSecond,
                });
                levels.Add([]);
            }

            foreach (string word in words.Where(word => words[0][0] == '#'))
            {
                if (word[0] == '#')
                {
                    now = long.Parse(word.AsSpan(1), System.Globalization.CultureInfo.InvariantCulture);
                }
                else
                {
                    levels[byId[word[1..]]].Add((now, word[0] == '1'));
                }
            }
        }

        Interfaces = channels;
        for (int channel = 0; channel < levels.Count; channel++)
        {
            List<(long Tick, bool High)> of = levels[channel];
            byte[] run = new byte[EdgeRun.HeaderSize + sizeof(uint) * (of.Count - 1)];
            for (int i = 1; i < of.Count; i++)
            {
                BinaryPrimitives.WriteUInt32LittleEndian(run.AsSpan(EdgeRun.HeaderSize + sizeof(uint) * (i - 1)), (uint)(of[i].Tick - of[i - 1].Tick));
            }

            EdgeRun.WriteHeader(run, of[0].High ? LineLevel.High : LineLevel.Low, EdgeRunFlags.Gap | EdgeRunFlags.Last, (uint)(now - of[^1].Tick), of[0].Tick);
            _runs.Add((channel, run));
        }
    }

    public string Name { get; }

    public IReadOnlyList<CaptureInterface> Interfaces { get; }

    public InputProblem? Problem => null;

    /// <summary>The name, sampling rate and VCD clock of each recording, from PROVENANCE.md and the files' headers.</summary>
    public static TheoryData<string, long, long> All => new()
    {
        { "srcA_usb_12mhz_all_255", 12_000_000, 10_000_000_000 },
        { "srcA_usb_1mhz_all_255", 1_000_000, 1_000_000 },
        { "srcA_usb_1mhz_all_85", 1_000_000, 1_000_000 },
        { "srcA_usb_500khz_all_85", 500_000, 1_000_000 },
        { "srcB_desk_0", 1_000_000, 1_000_000 },
        { "srcC_usb_0", 1_000_000, 1_000_000 },
    };

    public static SharedLine? Open(string name, long rate, long ticksPerSecond) =>
        Places.SharedFile("captures", "line", name + ".vcd") is string path ? new SharedLine(path, rate, ticksPerSecond) : null;

    /// <summary>What the independent edge reader found.</summary>
    public static IReadOnlyList<(double BreakStart, double Break, double Mab, int StartCode, byte[] Slots)> Reference(string name)
    {
        using FileStream file = File.OpenRead(Places.SharedFile("captures", "line", "reference", name + ".frames.json.gz")!);
        using GZipStream text = new(file, CompressionMode.Decompress);
        using JsonDocument document = JsonDocument.Parse(text);
        return
        [
            .. document.RootElement.GetProperty("frames").EnumerateArray().Select(frame => (
                frame.GetProperty("break_start_us").GetDouble(),
                frame.GetProperty("break_us").GetDouble(),
                frame.GetProperty("mab_us").GetDouble(),
                frame.GetProperty("start_code").GetInt32(),
                frame.GetProperty("values").EnumerateArray().Select(value => (byte)value.GetInt32()).ToArray())),
        ];
    }

    public ReadStatus Read(out CaptureRecord record)
    {
        record = default;
        if (_next == _runs.Count)
        {
            return ReadStatus.End;
        }

        (int channel, byte[] run) = _runs[_next++];
        record = new CaptureRecord
        {
            Number = _next,
            Time = Timestamp.FromUnixNanoseconds(0),
            InterfaceId = channel,
            Kind = RecordKind.Edges,
            Data = run,
        };
        return ReadStatus.Record;
    }

    public void Dispose()
    {
    }
}
