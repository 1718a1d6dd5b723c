using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>When a declared change was to be evaluated, as an earlier <c>changes.csv</c> says it.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Date">Date of the change.</param>
/// <param name="JudgedAfter">Whole months.</param>
/// <param name="JudgedAtCases">Cases with which it comes sooner; null without.</param>
public sealed record PublishedPlan(string Measure, DateOnly Date, int JudgedAfter, int? JudgedAtCases);

/// <summary>Reads <c>changes.csv</c> of an earlier run.</summary>
public static class PublishedPlans
{
    /// <summary>One a measure and change; none where the file is missing, or is of another version.</summary>
    /// <param name="path">The file.</param>
    /// <param name="columns">Its columns.</param>
    public static ImmutableArray<PublishedPlan> Read(string path, string[] columns)
    {
        var (measure, date, after, cases) = (At("measure"), At("date"), At("judged_after"), At("judged_at_cases"));
        try
        {
            return [.. PublishedTable.Rows(path, columns, () => new Failure(ExitCode.Input, "not such a table")).Select(cells =>
                new PublishedPlan(cells[measure], DateOnly.ParseExact(cells[date], "yyyy-MM-dd", CultureInfo.InvariantCulture),
                    int.Parse(cells[after], CultureInfo.InvariantCulture),
                    cells[cases].Length == 0 ? null : int.Parse(cells[cases], CultureInfo.InvariantCulture))).Distinct()];
        }
        catch (Exception e) when (e is Failure or FormatException or OverflowException)
        {
            return [];
        }

        int At(string name) => Array.IndexOf(columns, name);
    }
}
