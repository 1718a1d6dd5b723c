using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The counts of a run as series over one span of months, empty months included.</summary>
public sealed class SeriesBook
{
    private readonly Dictionary<string, Dictionary<(string Stratum, string Level), Count[]>> _series = [];

    /// <param name="rows">Counts by month; months outside the span are left out.</param>
    /// <param name="first">First month of every series.</param>
    /// <param name="last">Last month of every series.</param>
    public SeriesBook(IEnumerable<CountRow> rows, Month first, Month last)
    {
        (First, Last) = (first, last);
        Months = last.MonthsSince(first) + 1;
        foreach (var row in rows)
        {
            var index = row.Month.MonthsSince(first);
            if (index < 0 || index >= Months) continue;
            if (!_series.TryGetValue(row.Measure, out var cells)) _series[row.Measure] = cells = [];
            if (!cells.TryGetValue((row.Stratum, row.Level), out var counts)) cells[(row.Stratum, row.Level)] = counts = new Count[Months];
            counts[index] += row.Count;
        }
    }

    public Month First { get; }

    public Month Last { get; }

    public int Months { get; }

    /// <summary>Stratum and level of each series of a measure: the whole first, then as the engine gave them.</summary>
    public IEnumerable<(string Stratum, string Level)> Cells(string measure) =>
        _series.TryGetValue(measure, out var cells) ? cells.Keys : [];

    /// <summary>The series of a measure over all records, or null when it has none.</summary>
    public Series? Whole(string measure) => Of(measure, CountRow.All, CountRow.All);

    public Series? Of(string measure, string stratum, string level) =>
        _series.TryGetValue(measure, out var cells) && cells.TryGetValue((stratum, level), out var counts)
            ? new Series(First.Year, First.Number, ImmutableCollectionsOf(counts))
            : null;

    /// <summary>The summed count of a series from one month to another, both included.</summary>
    public Count Sum(Series? series, Month from, Month to)
    {
        var sum = default(Count);
        if (series is null) return sum;
        for (var i = Math.Max(0, from.MonthsSince(First)); i <= Math.Min(Months - 1, to.MonthsSince(First)); i++)
            sum += series.Counts[i];
        return sum;
    }

    private static ImmutableArray<Count> ImmutableCollectionsOf(Count[] counts) => [.. counts];
}
