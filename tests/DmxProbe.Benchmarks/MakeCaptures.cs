using System.Globalization;
using DmxProbe.Testing.Arbitration;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.HarbourHall;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Rdm;

namespace DmxProbe.Benchmarks;

/// <summary>Makes the files of captures/ anew, or those of a night with fewer faults: <c>make-captures [FOLDER [None | DigitsSwapped | OldLaptop | ShortMark]]</c>.</summary>
internal static class MakeCaptures
{
    public static int Run(string[] arguments)
    {
        string folder = arguments.Length > 0 ? arguments[0] : Path.Combine(Places.Repository, "captures");
        HarbourHallFaults faults = arguments.Length > 1 ? Enum.Parse<HarbourHallFaults>(arguments[1], ignoreCase: true) : HarbourHallFaults.All;
        Dictionary<string, byte[]> files = new(HarbourHallFiles.Make(faults)) { [WhoWins.File] = WhoWins.Script().Pcapng(), [StageLeftRdm.File] = StageLeftRdm.Script().Pcapng(), [BenchDesk.File] = BenchDesk.Make() };
        foreach ((string name, byte[] bytes) in files)
        {
            string path = Path.Combine([folder, .. name.Split('/')]);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllBytes(path, bytes);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{bytes.Length,10:N0}  {name}"));
        }

        return 0;
    }
}
