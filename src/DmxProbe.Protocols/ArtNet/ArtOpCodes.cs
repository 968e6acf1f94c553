using System.Globalization;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>Names of OpCodes.</summary>
public static class ArtOpCodes
{
    /// <summary>The packet's name (ArtDmx), or the number where Table 1 of the document has none (OpCode 0x0050).</summary>
    public static string Name(ArtOpCode opCode) => opCode switch
    {
        ArtOpCode.Poll => "ArtPoll",
        ArtOpCode.PollReply => "ArtPollReply",
        ArtOpCode.DiagData => "ArtDiagData",
        ArtOpCode.Command => "ArtCommand",
        ArtOpCode.DataRequest => "ArtDataRequest",
        ArtOpCode.DataReply => "ArtDataReply",
        ArtOpCode.Dmx => "ArtDmx",
        ArtOpCode.Nzs => "ArtNzs",
        ArtOpCode.Sync => "ArtSync",
        ArtOpCode.Address => "ArtAddress",
        ArtOpCode.Input => "ArtInput",
        ArtOpCode.TodRequest => "ArtTodRequest",
        ArtOpCode.TodData => "ArtTodData",
        ArtOpCode.TodControl => "ArtTodControl",
        ArtOpCode.Rdm => "ArtRdm",
        ArtOpCode.RdmSub => "ArtRdmSub",
        ArtOpCode.Media => "ArtMedia",
        ArtOpCode.MediaPatch => "ArtMediaPatch",
        ArtOpCode.MediaControl => "ArtMediaControl",
        ArtOpCode.MediaControlReply => "ArtMediaControlReply",
        ArtOpCode.TimeCode => "ArtTimeCode",
        ArtOpCode.TimeSync => "ArtTimeSync",
        ArtOpCode.Trigger => "ArtTrigger",
        ArtOpCode.Directory => "ArtDirectory",
        ArtOpCode.DirectoryReply => "ArtDirectoryReply",
        ArtOpCode.VideoSetup => "ArtVideoSetup",
        ArtOpCode.VideoPalette => "ArtVideoPalette",
        ArtOpCode.VideoData => "ArtVideoData",
        ArtOpCode.MacMaster => "ArtMacMaster",
        ArtOpCode.MacSlave => "ArtMacSlave",
        ArtOpCode.FirmwareMaster => "ArtFirmwareMaster",
        ArtOpCode.FirmwareReply => "ArtFirmwareReply",
        ArtOpCode.FileTnMaster => "ArtFileTnMaster",
        ArtOpCode.FileFnMaster => "ArtFileFnMaster",
        ArtOpCode.FileFnReply => "ArtFileFnReply",
        ArtOpCode.IpProg => "ArtIpProg",
        ArtOpCode.IpProgReply => "ArtIpProgReply",
        _ => string.Create(CultureInfo.InvariantCulture, $"OpCode 0x{(int)opCode:X4}"),
    };
}
