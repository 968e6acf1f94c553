using System.Globalization;

namespace DmxProbe.Analysis.Video;

/// <summary>A rectangle of a picture, in pixels of the picture as shown; from 0,0 at its top left.</summary>
/// <param name="X">Left edge.</param>
/// <param name="Y">Upper edge.</param>
/// <param name="Width">Pixels across.</param>
/// <param name="Height">Pixels down.</param>
public readonly record struct PictureRegion(int X, int Y, int Width, int Height)
{
    /// <summary>Reads <c>x,y,w,h</c>.</summary>
    public static bool TryParse(string text, out PictureRegion region)
    {
        ArgumentNullException.ThrowIfNull(text);
        region = default;
        string[] parts = text.Split(',');
        int[] numbers = new int[4];
        if (parts.Length != numbers.Length)
        {
            return false;
        }

        for (int i = 0; i < numbers.Length; i++)
        {
            if (!int.TryParse(parts[i].Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out numbers[i]))
            {
                return false;
            }
        }

        region = new PictureRegion(numbers[0], numbers[1], numbers[2], numbers[3]);
        return region is { Width: > 0, Height: > 0 };
    }

    /// <summary>Whether it lies within a picture.</summary>
    public bool IsWithin(int width, int height) => X >= 0 && Y >= 0 && (long)X + Width <= width && (long)Y + Height <= height;

    /// <summary>The same part of a picture of another size; at least one pixel.</summary>
    public PictureRegion Scaled(int fromWidth, int fromHeight, int toWidth, int toHeight)
    {
        int left = Math.Clamp((int)((long)X * toWidth / fromWidth), 0, toWidth - 1);
        int top = Math.Clamp((int)((long)Y * toHeight / fromHeight), 0, toHeight - 1);
        int right = Math.Clamp((int)(((((long)X + Width) * toWidth) + fromWidth - 1) / fromWidth), left + 1, toWidth);
        int bottom = Math.Clamp((int)(((((long)Y + Height) * toHeight) + fromHeight - 1) / fromHeight), top + 1, toHeight);
        return new PictureRegion(left, top, right - left, bottom - top);
    }

    /// <summary><c>x,y,w,h</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{X},{Y},{Width},{Height}");
}
