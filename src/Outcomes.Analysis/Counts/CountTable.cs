using System.Globalization;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>One count of a period, stratum and level, with its estimate.</summary>
/// <param name="Measure">The id it is counted under.</param>
/// <param name="Period">A month, or the first and last month of the whole period.</param>
/// <param name="Stratum">A field, or <c>all</c>.</param>
/// <param name="Level">A value, or <c>all</c>.</param>
/// <param name="Count">The count.</param>
public readonly record struct CountedPeriod(string Measure, string Period, string Stratum, string Level, Count Count)
{
    /// <summary>Its estimate; null where none was eligible.</summary>
    public Estimate? Estimate => Proportion.Estimate(Count);
}

/// <summary>Every count of a department: the whole period, then its months, by measure, stratum and level.</summary>
public static class CountTable
{
    /// <summary>The rows in the order of measures, strata and levels as counted.</summary>
    public static IEnumerable<CountedPeriod> Rows(DepartmentCounts department)
    {
        ArgumentNullException.ThrowIfNull(department);
        var book = department.Book;
        var months = book.First.To(book.Last).Select(month => month.ToString()).ToArray();
        var whole = string.Create(CultureInfo.InvariantCulture, $"{book.First}/{book.Last}");
        foreach (var measure in department.Plan.Definitions.Measures.SelectMany(Readings))
            foreach (var (stratum, level) in book.Cells(measure))
            {
                var series = book.Of(measure, stratum, level)!;
                yield return new(measure, whole, stratum, level, book.Sum(series, book.First, book.Last));
                for (var i = 0; i < months.Length; i++)
                    yield return new(measure, months[i], stratum, level, series.Counts[i]);
            }
    }

    // The ids under which a measure is counted: its own, and the known-only reading where an unknown counts as not done.
    private static string[] Readings(Measure measure) =>
        measure.Missing == MissingRule.NotDone ? [measure.Id, measure.Id + ".known"] : [measure.Id];
}
