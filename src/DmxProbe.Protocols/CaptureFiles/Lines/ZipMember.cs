namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>One member of a zip archive.</summary>
/// <param name="Name">Its name; untrusted text, never used as a path.</param>
/// <param name="HeaderAt">Offset of its local header.</param>
/// <param name="Method">0 stored, 8 deflated; others are not read.</param>
/// <param name="IsEncrypted">Whether a password is needed.</param>
/// <param name="Checksum">CRC-32 of its content.</param>
/// <param name="Packed">Octets it takes in the archive.</param>
/// <param name="Size">Octets of its content.</param>
internal sealed record ZipMember(string Name, long HeaderAt, int Method, bool IsEncrypted, uint Checksum, long Packed, long Size)
{
    /// <summary>Content not packed.</summary>
    public const int Stored = 0;

    /// <summary>Content packed by deflate.</summary>
    public const int Deflated = 8;

    /// <summary>False where the archive ends inside it.</summary>
    public bool IsWhole { get; init; } = true;
}
