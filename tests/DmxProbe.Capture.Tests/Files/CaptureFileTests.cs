using System.Diagnostics;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Capture.Tests.Files;

public sealed class CaptureFileTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe");

    public void Dispose()
    {
        foreach (FileInfo file in _folder.EnumerateFiles())
        {
            if (!OperatingSystem.IsWindows())
            {
                file.UnixFileMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            }
        }

        _folder.Delete(recursive: true);
    }

    [Theory]
    [MemberData(nameof(Vectors))]
    public void A_file_gives_the_records_that_its_octets_give_also_packed_and_misnamed(string name)
    {
        byte[] bytes = CaptureVectors.Load(name);
        CapturedFile expected = CapturedFile.Read(bytes);
        foreach (string path in (string[])[Save("wrong.txt", bytes), Save("packed.pcap", CapturedFile.Gzip(bytes))])
        {
            using ICaptureSource source = CaptureFile.Open(path);
            Assert.Equal(path, source.Name);
            CapturedFile file = CapturedFile.Read(source);
            Assert.Null(file.Problem);
            Assert.Equal(expected.Records, file.Records);
            Assert.Equal(expected.Interfaces, file.Interfaces);
        }
    }

    public static TheoryData<string> Vectors() => [.. CaptureVectors.Names];

    [Fact]
    public void A_missing_file_is_refused_with_one_sentence()
    {
        string missing = Path.Combine(_folder.FullName, "none.pcap");
        Assert.Equal(missing + ": there is no such file; check the name and the folder", Refusal(missing));
        string missingFolder = Path.Combine(_folder.FullName, "none", "none.pcap");
        Assert.Equal(missingFolder + ": there is no such file; check the name and the folder", Refusal(missingFolder));
    }

    [Fact]
    public void A_folder_without_a_recording_is_refused_with_one_sentence() =>
        Assert.Equal(
            _folder.FullName + ": this folder holds no recording: found no file that ends in .pcapng; name a capture file, or the folder that was recorded to; a recording that heard nothing leaves no such file",
            Refusal(_folder.FullName));

    [SkippableFact]
    public void A_file_without_permission_is_refused_with_one_sentence()
    {
        Skip.If(OperatingSystem.IsWindows() || Environment.IsPrivilegedProcess, "needs a user that permissions apply to");
        string path = Save("secret.pcap", CaptureVectors.Load("us_le.pcap"));
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(path, UnixFileMode.None);
        }

        Assert.Equal(path + ": this file may not be read; ask its owner for read permission", Refusal(path));
    }

    [Fact]
    public void An_empty_file_and_an_empty_name_are_refused_with_one_sentence()
    {
        string path = Save("empty.pcap", []);
        Assert.Equal(path + ": the file is empty; check that the capture was saved", Refusal(path));
        Assert.StartsWith(": the file could not be opened: found ", Refusal(""), StringComparison.Ordinal);
        Assert.StartsWith("a\0b: the file could not be opened: found ", Refusal("a\0b"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_still_being_written_can_be_opened_and_ends_where_it_ends()
    {
        byte[] bytes = new CaptureBytes().PcapHeader().PcapRecord(1, 0, [7]).PcapRecord(2, 0, [8]).ToArray();
        string path = Path.Combine(_folder.FullName, "growing.pcap");
        using FileStream writer = new(path, FileMode.Create, FileAccess.Write, FileShare.Read);
        writer.Write(bytes, 0, 50);
        writer.Flush();
        using ICaptureSource source = CaptureFile.Open(path);
        CapturedFile file = CapturedFile.Read(source);
        Assert.Single(file.Records);
        Assert.Equal(
            "the file ends inside record 2 at byte 41: expected 16 octets, found 9; the 1 record before it was read",
            file.Problem?.ToString());
    }

    [SkippableFact]
    public async Task A_named_pipe_delivers_each_record_as_it_comes()
    {
        Skip.If(OperatingSystem.IsWindows(), "named pipes of this kind are a Unix thing");
        string path = Path.Combine(_folder.FullName, "pipe");
        using (Process make = Process.Start("mkfifo", [path]))
        {
            await make.WaitForExitAsync();
            Skip.If(make.ExitCode != 0, "no mkfifo here");
        }

        byte[] bytes = new CaptureBytes().PcapHeader().PcapRecord(1, 0, [7]).PcapRecord(2, 0, [8]).ToArray();
        using SemaphoreSlim firstSeen = new(0);
        Task writing = Task.Run(async () =>
        {
            await using FileStream pipe = new(path, FileMode.Open, FileAccess.Write, FileShare.ReadWrite, 0);
            pipe.Write(bytes, 0, 41);
            Assert.True(await firstSeen.WaitAsync(TimeSpan.FromSeconds(20)), "the first record did not come before the second was sent");
            pipe.Write(bytes, 41, bytes.Length - 41);
        });
        Task<(ReadStatus, ReadStatus, ReadStatus, InputProblem?)> reading = Task.Run(() =>
        {
            using ICaptureSource source = CaptureFile.Open(path);
            ReadStatus first = source.Read(out _);
            firstSeen.Release();
            return (first, source.Read(out _), source.Read(out _), source.Problem);
        });
        await writing;
        Assert.Equal((ReadStatus.Record, ReadStatus.Record, ReadStatus.End, null), await reading);
    }

    private static string Refusal(string path) => Assert.Throws<InputException>(() => CaptureFile.Open(path)).Message;

    private string Save(string name, byte[] bytes)
    {
        string path = Path.Combine(_folder.FullName, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }
}
