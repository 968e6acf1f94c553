using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>Bursts of one sender on one universe: at least five packets within 5 ms after a gap of more than 100 ms.</summary>
/// <param name="Count">How many.</param>
/// <param name="Largest">Most packets in one.</param>
/// <param name="LongestGap">Longest gap before one.</param>
/// <param name="First">When the first began.</param>
/// <param name="Last">When the last began.</param>
/// <param name="FirstRecord">Record of the fifth packet of the first.</param>
public readonly record struct BurstSnapshot(
    long Count, int Largest, Duration LongestGap, Timestamp First, Timestamp Last, long FirstRecord);
