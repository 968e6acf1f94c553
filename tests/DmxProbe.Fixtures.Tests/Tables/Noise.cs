using System.Text;

namespace DmxProbe.Fixtures.Tests.Tables;

/// <summary>Hostile text for both readers, by fixed seeds.</summary>
internal static class Noise
{
    /// <summary>Random bytes decoded as UTF-8, random characters of the CSV alphabet, and an example with random damage.</summary>
    public static IEnumerable<string> Texts(int seed, string example)
    {
        Random random = new(seed);
        const string Alphabet = "\"\"\"',;\t\r\n# 0123456789-.a\uFEFF\uD800";
        for (int i = 0; i < 2_000; i++)
        {
            byte[] bytes = new byte[random.Next(200)];
            random.NextBytes(bytes);
            yield return Encoding.UTF8.GetString(bytes);

            string header = i % 2 == 0 ? example[..(example.IndexOf('\n', StringComparison.Ordinal) + 1)] : "";
            yield return header + string.Concat(Enumerable.Range(0, random.Next(120)).Select(_ => Alphabet[random.Next(Alphabet.Length)]));

            char[] damaged = example.ToCharArray();
            for (int hit = random.Next(1, 6); hit > 0; hit--)
            {
                damaged[random.Next(damaged.Length)] = random.Next(3) == 0 ? (char)random.Next(0x10000) : Alphabet[random.Next(Alphabet.Length)];
            }

            yield return new string(damaged);
        }
    }
}
