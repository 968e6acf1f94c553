using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Video;

/// <summary>What a video file says of itself.</summary>
/// <param name="Width">Pixels across as shown, after turning; 0 where there are no moving pictures.</param>
/// <param name="Height">Pixels down as shown.</param>
/// <param name="PicturesPerSecond">Mean picture rate; 0 where unknown.</param>
/// <param name="Seconds">Stated length; 0 where unknown.</param>
/// <param name="Curve">How light became code values.</param>
/// <param name="Created">When it was made, by the camera's own clock; null where it does not say.</param>
/// <param name="HasSound">Whether there is a sound track.</param>
public sealed record VideoFacts(int Width, int Height, double PicturesPerSecond, double Seconds, ToneCurve Curve, Timestamp? Created, bool HasSound)
{
    /// <summary>Whether there are moving pictures.</summary>
    public bool HasPictures => Width > 0 && Height > 0;
}
