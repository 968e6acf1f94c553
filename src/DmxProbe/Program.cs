namespace DmxProbe;

/// <summary>The entry point of the <c>dmxprobe</c> program.</summary>
internal static class Program
{
    private static int Main(string[] args)
    {
        return args.Length == 0 ? 0 : 2;
    }
}
