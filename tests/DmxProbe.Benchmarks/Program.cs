using DmxProbe.Benchmarks;

Dictionary<string, Func<string[], int>> benchmarks = new(StringComparer.Ordinal)
{
    ["locate-table"] = LocateTable.Run,
    ["locate-speed"] = LocateSpeed.Run,
};

if (args.Length > 0 && benchmarks.TryGetValue(args[0], out Func<string[], int>? run))
{
    return run(args[1..]);
}

Console.Error.WriteLine("name a benchmark: " + string.Join(", ", benchmarks.Keys.Order(StringComparer.Ordinal)));
return 2;
