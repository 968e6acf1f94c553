namespace DmxProbe.Capture.Recording;

/// <summary>How much room a disk has.</summary>
internal static class DiskSpace
{
    /// <summary>Octets free where a folder is, for this user; null where the system does not say.</summary>
    public static long? Free(string folder)
    {
        try
        {
            return new DriveInfo(Path.GetFullPath(folder)).AvailableFreeSpace;
        }
        catch (Exception unknown) when (unknown is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return null;
        }
    }
}
