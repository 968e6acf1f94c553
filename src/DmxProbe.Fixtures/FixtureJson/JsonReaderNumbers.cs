using System.Globalization;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>Numbers as text.</summary>
internal static class JsonReaderNumbers
{
    /// <summary>A number for a name or a sentence.</summary>
    public static string Number(long value) => value.ToString(CultureInfo.InvariantCulture);
}
