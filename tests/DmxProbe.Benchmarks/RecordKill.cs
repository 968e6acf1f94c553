using System.Globalization;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Recording;

namespace DmxProbe.Benchmarks;

/// <summary>Kills the recorder at random moments and looks at what is left: <c>record-kill [--moments 50] [--rate 8800]</c>.</summary>
internal static class RecordKill
{
    public static int Run(string[] args)
    {
        int moments = Number(args, "--moments", 50);
        int rate = Number(args, "--rate", 8_800); // 200 universes at 44 Hz
        string program = Path.Combine(Places.Repository, "artifacts", "bin", "DmxProbe", "release", "dmxprobe.dll");
        if (!File.Exists(program))
        {
            Console.Error.WriteLine("build the program first: dotnet build -c Release src/DmxProbe");
            return 2;
        }

        Random random = new(20_261_125);
        List<double> lost = [];
        int broken = 0;
        int cut = 0;
        for (int i = 0; i < moments; i++)
        {
            string folder = Directory.CreateTempSubdirectory("dmxprobe-kill-").FullName;
            try
            {
                KillOutcome outcome = KillTrial.Run(program, folder, rate, TimeSpan.FromMilliseconds(random.Next(20, 3_500)));
                lost.Add(outcome.LostTime.TotalMilliseconds);
                cut += outcome.Cut is null ? 0 : 1;
                if (!outcome.InOrder || outcome.Left < outcome.SentASecondBefore)
                {
                    broken++;
                    Console.WriteLine($"moment {i}: {outcome}");
                }
            }
            finally
            {
                Directory.Delete(folder, recursive: true);
            }
        }

        lost.Sort();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{moments} moments, {rate} records/s: {broken} broke the rule; lost before the kill: median {lost[lost.Count / 2]:0} ms, most {lost[^1]:0} ms; {cut} ended inside a block"));
        return broken == 0 ? 0 : 1;
    }

    internal static int Number(string[] args, string name, int otherwise)
    {
        int at = Array.IndexOf(args, name);
        return at >= 0 && at + 1 < args.Length ? int.Parse(args[at + 1], CultureInfo.InvariantCulture) : otherwise;
    }
}
