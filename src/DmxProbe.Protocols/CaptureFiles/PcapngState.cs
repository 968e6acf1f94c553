using System.Collections.Immutable;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>What stands before a block of a pcapng file and is needed to read on from it.</summary>
/// <param name="BigEndian">Byte order of the section.</param>
/// <param name="Interfaces">All interfaces described so far in the file.</param>
/// <param name="Section">Those of the section, with the losses reported so far.</param>
/// <param name="Channels">The channels of the section.</param>
internal sealed record PcapngState(
    bool BigEndian,
    ImmutableList<CaptureInterface> Interfaces,
    ImmutableArray<PcapngInterface> Section,
    ImmutableArray<CaptureInterface> Channels);
