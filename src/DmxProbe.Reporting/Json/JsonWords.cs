using System.Text.Json;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>The words that JSON uses for enumerations: fixed by docs/json.md, whatever the members are called.</summary>
internal static class JsonWords
{
    /// <summary>The word of a protocol.</summary>
    public static string Of(UniverseProtocol protocol) => protocol switch
    {
        UniverseProtocol.Sacn => "sacn",
        UniverseProtocol.ArtNet => "artnet",
        UniverseProtocol.Line => "line",
        _ => "serial",
    };

    /// <summary>The word of a severity.</summary>
    public static string Of(Severity severity) => severity switch
    {
        Severity.Fault => "fault",
        Severity.Warning => "warning",
        _ => "info",
    };

    /// <summary>The word of a claim.</summary>
    public static string Of(LocateClaim claim) => claim switch
    {
        LocateClaim.Found => "found",
        LocateClaim.Class => "class",
        LocateClaim.OneOf => "oneOf",
        LocateClaim.NotEnough => "notEnough",
        _ => "nothingExplains",
    };

    /// <summary>The word of a verdict.</summary>
    public static string Of(LimitVerdict verdict) => verdict switch
    {
        LimitVerdict.Inside => "inside",
        LimitVerdict.OutsideTransmit => "outsideTransmit",
        LimitVerdict.OutsideReceive => "outsideReceive",
        LimitVerdict.Undecided => "undecided",
        _ => "notMeasurable",
    };

    /// <summary>The word of what was made of a channel.</summary>
    public static string Of(LineChannelUse use) => use switch
    {
        LineChannelUse.Silent => "silent",
        LineChannelUse.NotDmx => "notDmx",
        LineChannelUse.Decoded => "decoded",
        LineChannelUse.OtherLeg => "otherLeg",
        LineChannelUse.Copy => "copy",
        _ => "notAsked",
    };

    /// <summary>The word of a doubt.</summary>
    public static string Of(LineDoubt doubt) => doubt switch
    {
        LineDoubt.Polarity => "polarity",
        LineDoubt.Rate => "rate",
        LineDoubt.Disturbed => "disturbed",
        _ => "none",
    };

    /// <summary>The word of a polarity.</summary>
    public static string Of(LinePolarity polarity) => polarity == LinePolarity.MarkLow ? "markLow" : "markHigh";

    /// <summary>The word of who read a clock.</summary>
    public static string Of(StampedBy stampedBy) => JsonNamingPolicy.CamelCase.ConvertName(stampedBy.ToString());
}
