namespace DmxProbe.Protocols.Records;

/// <summary>Where records come from; pulled by one thread. New behaviour (record, queue, merge, pace) wraps a source.</summary>
public interface ICaptureSource : IDisposable
{
    /// <summary>Name to print: the file or the interface. Untrusted text.</summary>
    string Name { get; }

    /// <summary>The interfaces met so far; grows while reading, never changes an entry.</summary>
    IReadOnlyList<CaptureInterface> Interfaces { get; }

    /// <summary>
    /// After <see cref="ReadStatus.End"/>: null when the capture ended as it should, else what cut it short. All records
    /// before that point were delivered.
    /// </summary>
    InputProblem? Problem { get; }

    /// <summary>Reads the next record. Never throws for what the input holds.</summary>
    /// <param name="record">The record, valid until the next call; for <see cref="ReadStatus.Idle"/> only its time.</param>
    /// <returns>Whether there was one.</returns>
    ReadStatus Read(out CaptureRecord record);
}
