using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Walk;

/// <summary>One fader move: a function, or a slot that belongs to no unit, from when it began to when it rested.</summary>
/// <param name="From">First change.</param>
/// <param name="To">Last change.</param>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">Index of the sender.</param>
/// <param name="Slot">The slot of the universe that moved first.</param>
/// <param name="Functions">Indexes of the functions it belongs to: none, one, or several where units overlap or share.</param>
/// <param name="First">Value before the move.</param>
/// <param name="Last">Value after it.</param>
/// <param name="Lowest">Lowest value on the way.</param>
/// <param name="Highest">Highest value on the way.</param>
/// <param name="Kind">How much else moved.</param>
/// <param name="Others">How many other functions moved at the same time.</param>
public sealed record WalkMove(
    Timestamp From, Timestamp To, UniverseId Universe, int Sender, int Slot, IReadOnlyList<int> Functions,
    int First, int Last, int Lowest, int Highest, MoveKind Kind, int Others);
