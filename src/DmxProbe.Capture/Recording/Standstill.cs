using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>While nothing can be written: why, and what is lost meanwhile on each interface. Under the recorder's lock.</summary>
/// <param name="folder">The folder that is recorded into.</param>
/// <param name="tell">Says that it begins and ends.</param>
internal sealed class Standstill(string folder, Action<string, bool, string> tell)
{
    private readonly Dictionary<int, (CaptureInterface Face, long Lost)> _lost = [];
    private bool _isTold;

    /// <summary>Why nothing can be written; null while it can.</summary>
    public string? Why { get; private set; }

    /// <summary>Records that came and were not recorded, in all.</summary>
    public long NotRecorded { get; private set; }

    /// <summary>What is lost and not yet written as a loss.</summary>
    public IReadOnlyList<(CaptureInterface Face, long Lost)> Open => [.. _lost.Values];

    /// <summary>Nothing can be written; the first reason counts.</summary>
    public void Begin(string why) => Why ??= why;

    /// <summary>It can be written again.</summary>
    public void End() => Why = null;

    /// <summary>Says once that nothing can be written, and why.</summary>
    public void SayBegun()
    {
        if (!_isTold)
        {
            _isTold = true;
            tell("held-up", true, $"nothing can be written to {folder} ({Why}): what was recorded is kept, what comes now is counted and lost; recording goes on by itself once there is room");
        }
    }

    /// <summary>Says once that it goes on, after it had been said that it did not.</summary>
    public void SayEnded()
    {
        if (_isTold && Why is null)
        {
            _isTold = false;
            tell("goes-on", false, string.Create(CultureInfo.InvariantCulture, $"{folder} can be written to again: recording goes on; {NotRecorded:N0} records were not recorded in all"));
        }
    }

    /// <summary>Counts what an interface brought and could not be recorded.</summary>
    /// <param name="face">The interface.</param>
    /// <param name="lostBefore">What its source had lost before.</param>
    /// <param name="records">Records.</param>
    public void Lose(CaptureInterface face, long lostBefore, long records)
    {
        NotRecorded += records;
        (CaptureInterface Face, long Lost) known = _lost.GetValueOrDefault(face.Id, (face, 0));
        _lost[face.Id] = (face, known.Lost + lostBefore + records);
    }

    /// <summary>What an interface lost, now to be written with its next record; 0 for nothing.</summary>
    public long Take(CaptureInterface face) =>
        _lost.Count > 0 && _lost.Remove(face.Id, out (CaptureInterface Face, long Lost) missing) ? missing.Lost : 0;
}
