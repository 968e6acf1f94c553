using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>Says once, and again when it gets worse, that the disk will soon be full: before anything is lost.</summary>
internal sealed class DiskWatch(RecorderSettings settings, Action<string, bool, string> tell)
{
    private const long Little = 1_000_000_000;
    private const long VeryLittle = 100_000_000;

    private static readonly Duration Short = Duration.FromSeconds(30 * 60);
    private static readonly Duration VeryShort = Duration.FromSeconds(5 * 60);

    private int _told;

    /// <summary>Octets free; null where not known.</summary>
    public long? Free { get; private set; }

    /// <summary>Time until it is full.</summary>
    public Duration? Left(double octetsPerSecond) =>
        Free is long free && octetsPerSecond >= 1 ? Duration.FromSeconds(Math.Min(free / octetsPerSecond, 1e9)) : null;

    /// <summary>Looks at the disk.</summary>
    /// <param name="octetsPerSecond">How fast the recording grows; 0 while not known.</param>
    /// <param name="isRing">A ring stays as long as it is: only little room is worth a word.</param>
    public void Look(double octetsPerSecond, bool isRing)
    {
        Free = settings.FreeSpace(settings.Folder);
        if (Free is not long free)
        {
            return;
        }

        Duration? left = isRing ? null : Left(octetsPerSecond);
        int level = free < VeryLittle || left < VeryShort ? 2 : free < Little || left < Short ? 1 : 0;
        if (level > _told)
        {
            string until = left is Duration time
                ? string.Create(CultureInfo.InvariantCulture, $", enough for {Math.Floor(time.TotalSeconds / 60):0} min at the present rate")
                : "";
            tell(
                level == 2 ? "disk-almost-full" : "disk-nearly-full",
                true,
                string.Create(CultureInfo.InvariantCulture, $"only {free / 1e6:N0} MB are free where {settings.Folder} is{until}; nothing is lost yet: free some space"));
        }

        // Said again only after it had been well for a while: a rate that swings would say it for ever.
        _told = level > _told || free > 2 * Little ? level : _told;
    }
}
