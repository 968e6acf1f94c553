using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>Short ways to put captures together and to ask what a survey finds in them.</summary>
internal static class Wire
{
    public static readonly byte[] Cid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");
    public static readonly byte[] OtherCid = SacnPackets.Cid("6b1d2f4e-0c51-4f7a-9d21-3a5e84c7b901");
    public static readonly Host Desk = Host.At("desk", "10.20.0.10");
    public static readonly Host Other = Host.At("other", "10.20.0.11");
    public static readonly Host Gateway = Host.At("gateway", "10.20.0.21");
    public static readonly Host Switch = Host.At("switch", "10.20.0.1");

    /// <summary>Levels that change with the number, so that nothing counts as unchanged.</summary>
    public static byte[] Slots(int number, int count = 512)
    {
        byte[] slots = new byte[count];
        Array.Fill(slots, (byte)(number % 251));
        return slots;
    }

    /// <summary>An sACN data packet to its group.</summary>
    public static byte[] Sacn(
        int number, int universe = 1, int syncAddress = 0, int options = 0, int startCode = 0, int priority = 100, byte[]? cid = null, Host? from = null, int? identification = null) =>
        UdpFrames.Build(
            UdpPath.ToSacnGroup(from ?? Desk, universe),
            SacnPackets.Data(cid ?? Cid, "Source_A", universe, number & 0xFF, Slots(number), priority, syncAddress, options, startCode),
            (identification ?? number + 1) & 0xFFFF);

    /// <summary>An sACN synchronization packet to its group.</summary>
    public static byte[] Sync(int number, int address, byte[]? cid = null, Host? from = null) => UdpFrames.Build(
        UdpPath.ToSacnGroup(from ?? Desk, address), SacnPackets.Sync(cid ?? Cid, address, number & 0xFF), number & 0xFFFF);

    /// <summary>An sACN discovery packet to its group.</summary>
    public static byte[] Discovery(params int[] universes) => UdpFrames.Build(
        UdpPath.ToSacnGroup(Desk, SacnPackets.DiscoveryUniverse), SacnPackets.Discovery(Cid, "Source_A", universes));

    /// <summary>A unicast ArtDmx packet.</summary>
    public static byte[] Dmx(int number, int portAddress = 0, Host? from = null, Host? to = null) => UdpFrames.Build(
        UdpPath.Unicast(from ?? Desk, to ?? Gateway, ArtNetPackets.Port),
        ArtNetPackets.Dmx(portAddress, (number % 255) + 1, Slots(number)),
        (number + 1) & 0xFFFF);

    /// <summary>An Art-Net packet to everybody.</summary>
    public static byte[] ToAll(byte[] payload, Host? from = null) =>
        UdpFrames.Build(UdpPath.Broadcast(from ?? Desk, new System.Net.IPAddress([10, 255, 255, 255]), ArtNetPackets.Port), payload);

    public static SurveySnapshot Survey(this FrameSource source) => Surveyor.Run(source, default);

    /// <summary>
    /// Ids of the findings, each once, in order of the alphabet; without the slow refresh that these captures have because
    /// ten packets a second are enough to show a rule.
    /// </summary>
    public static string[] Ids(this SurveySnapshot survey) =>
        [.. survey.Findings.Select(finding => finding.Id).Where(id => id != "refresh-slow-on-network").Distinct().Order(StringComparer.Ordinal)];

    public static Finding One(this SurveySnapshot survey, string id) => Assert.Single(survey.Findings, finding => finding.Id == id);
}
