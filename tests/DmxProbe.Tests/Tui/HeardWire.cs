using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tests.Tui;

/// <summary>A recording in place of a live input, which tells when all of it has been heard.</summary>
internal sealed class HeardWire(string file) : ICaptureSource
{
    private readonly ICaptureSource _file = CaptureFile.Open(file, LineFileOptions.None);

    public ManualResetEventSlim IsOver { get; } = new();

    public string Name => _file.Name;

    public IReadOnlyList<CaptureInterface> Interfaces => _file.Interfaces;

    public InputProblem? Problem => _file.Problem;

    public ReadStatus Read(out CaptureRecord record)
    {
        ReadStatus status = _file.Read(out record);
        if (status == ReadStatus.End)
        {
            IsOver.Set();
        }

        return status;
    }

    // Twice, as a test and the wire each close it.
    public void Dispose()
    {
        _file.Dispose();
        IsOver.Dispose();
    }
}
