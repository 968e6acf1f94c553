namespace DmxProbe.Protocols.ArtNet;

/// <summary>OpCodes of Art-Net 4 (document 1.4dn, Table 1). Any other number may come and is kept as it is.</summary>
public enum ArtOpCode
{
    /// <summary>No OpCode.</summary>
    None = 0,

    /// <summary>ArtPoll: discovery: who is there.</summary>
    Poll = 0x2000,

    /// <summary>ArtPollReply: answer to a poll: what a device is and how it is set.</summary>
    PollReply = 0x2100,

    /// <summary>ArtDiagData: diagnostic text.</summary>
    DiagData = 0x2300,

    /// <summary>ArtCommand: text commands.</summary>
    Command = 0x2400,

    /// <summary>ArtDataRequest: request for data such as a product address.</summary>
    DataRequest = 0x2700,

    /// <summary>ArtDataReply: answer to a data request.</summary>
    DataReply = 0x2800,

    /// <summary>ArtDmx: levels; the document also calls it OpOutput.</summary>
    Dmx = 0x5000,

    /// <summary>ArtNzs: slots under a START code other than 0, and ArtVlc.</summary>
    Nzs = 0x5100,

    /// <summary>ArtSync: act on the held levels now.</summary>
    Sync = 0x5200,

    /// <summary>ArtAddress: remote programming of names and addresses.</summary>
    Address = 0x6000,

    /// <summary>ArtInput: enable or disable inputs.</summary>
    Input = 0x7000,

    /// <summary>ArtTodRequest: request for a table of RDM devices.</summary>
    TodRequest = 0x8000,

    /// <summary>ArtTodData: table of RDM devices.</summary>
    TodData = 0x8100,

    /// <summary>ArtTodControl: control of RDM discovery.</summary>
    TodControl = 0x8200,

    /// <summary>ArtRdm: an RDM message.</summary>
    Rdm = 0x8300,

    /// <summary>ArtRdmSub: compressed RDM sub-device data.</summary>
    RdmSub = 0x8400,

    /// <summary>ArtMedia: from a media server.</summary>
    Media = 0x9000,

    /// <summary>ArtMediaPatch: to a media server.</summary>
    MediaPatch = 0x9100,

    /// <summary>ArtMediaControl: to a media server.</summary>
    MediaControl = 0x9200,

    /// <summary>ArtMediaControlReply: from a media server.</summary>
    MediaControlReply = 0x9300,

    /// <summary>ArtTimeCode: time code.</summary>
    TimeCode = 0x9700,

    /// <summary>ArtTimeSync: date and time.</summary>
    TimeSync = 0x9800,

    /// <summary>ArtTrigger: trigger.</summary>
    Trigger = 0x9900,

    /// <summary>ArtDirectory: request for a list of files.</summary>
    Directory = 0x9A00,

    /// <summary>ArtDirectoryReply: list of files.</summary>
    DirectoryReply = 0x9B00,

    /// <summary>ArtVideoSetup: screen set-up.</summary>
    VideoSetup = 0xA010,

    /// <summary>ArtVideoPalette: colour palette.</summary>
    VideoPalette = 0xA020,

    /// <summary>ArtVideoData: screen content.</summary>
    VideoData = 0xA040,

    /// <summary>ArtMacMaster: deprecated.</summary>
    MacMaster = 0xF000,

    /// <summary>ArtMacSlave: deprecated.</summary>
    MacSlave = 0xF100,

    /// <summary>ArtFirmwareMaster: upload of firmware.</summary>
    FirmwareMaster = 0xF200,

    /// <summary>ArtFirmwareReply: answer to an upload.</summary>
    FirmwareReply = 0xF300,

    /// <summary>ArtFileTnMaster: upload of a user file.</summary>
    FileTnMaster = 0xF400,

    /// <summary>ArtFileFnMaster: download of a user file.</summary>
    FileFnMaster = 0xF500,

    /// <summary>ArtFileFnReply: answer to a file transfer.</summary>
    FileFnReply = 0xF600,

    /// <summary>ArtIpProg: remote programming of IP settings.</summary>
    IpProg = 0xF800,

    /// <summary>ArtIpProgReply: IP settings.</summary>
    IpProgReply = 0xF900,
}
