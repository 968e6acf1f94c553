using System.Buffers;

using Parquet;
using Parquet.Schema;

namespace DmxProbe.Reporting.Archive;

/// <summary>The columns of a row group, written in the order of the schema.</summary>
internal sealed class ParquetColumns(ParquetRowGroupWriter group, DataField[] fields)
{
    private int _next;

    /// <summary>Writes whole numbers.</summary>
    public void Numbers(ReadOnlyMemory<int> values) => Wait(group.WriteAsync<int>(fields[_next++], values));

    /// <summary>Writes texts.</summary>
    public void Texts(IReadOnlyCollection<string> values) => Wait(group.WriteAsync(fields[_next++], values));

    /// <summary>Writes moments as microseconds since 1970, rounded down.</summary>
    public void Times(IReadOnlyList<long> nanoseconds) => Micros(nanoseconds.Select(Microseconds).ToArray());

    /// <summary>Writes moments that are microseconds since 1970.</summary>
    public void Micros(ReadOnlyMemory<long> microseconds) => Wait(group.WriteAsync<long>(fields[_next++], microseconds));

    /// <summary>The same text in all rows.</summary>
    public static string[] Same(string text, int rows)
    {
        string[] texts = new string[rows];
        Array.Fill(texts, text);
        return texts;
    }

    /// <summary>Nanoseconds as microseconds, rounded down.</summary>
    public static long Microseconds(long nanoseconds)
    {
        (long whole, long rest) = Math.DivRem(nanoseconds, 1000);
        return rest < 0 ? whole - 1 : whole;
    }

    /// <summary>Writes lists of whole numbers.</summary>
    /// <param name="values">The values of all lists.</param>
    /// <param name="repetitions">0 where a list begins, else 1.</param>
    public void Lists(ReadOnlyMemory<int> values, ReadOnlyMemory<int> repetitions)
    {
        DataField field = fields[_next++];
        int[] definitions = ArrayPool<int>.Shared.Rent(values.Length);
        definitions.AsSpan(0, values.Length).Fill(field.MaxDefinitionLevel); // no list and no value is ever null
        Wait(group.WriteAllPartsAsync<int>(field, values, definitions.AsMemory(0, values.Length), repetitions, CancellationToken.None));
        ArrayPool<int>.Shared.Return(definitions);
    }

    private static void Wait(Task task) => task.GetAwaiter().GetResult();
}
