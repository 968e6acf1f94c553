namespace DmxProbe.Reporting.Json;

/// <summary>A place of this computer that can be listened to.</summary>
/// <param name="Word">What to type as INPUT.</param>
/// <param name="Kind">network or serial.</param>
/// <param name="Name">Its name; untrusted text.</param>
/// <param name="Description">What it calls itself; may be empty; untrusted text.</param>
/// <param name="Addresses">Its addresses with their prefix length; empty for a serial port.</param>
/// <param name="IsUp">Whether it has a link; null for a serial port.</param>
/// <param name="IsWireless">Whether it goes through the air; null for a serial port.</param>
/// <param name="LinkMbitPerSecond">Link speed; null where none is known.</param>
/// <param name="Measures">What can be measured there.</param>
/// <param name="InUse">Who has it, or why it cannot be used just now; empty when it is free.</param>
public sealed record InputListing(
    string Word,
    string Kind,
    string Name,
    string Description,
    IReadOnlyList<string> Addresses,
    bool? IsUp,
    bool? IsWireless,
    double? LinkMbitPerSecond,
    string Measures,
    string InUse);
