using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>The column of a source that holds a field.</summary>
/// <param name="File">The source's file, as the pipeline writes it.</param>
/// <param name="Heading">The column's heading; null where the mapping gives a constant.</param>
public sealed record SourceColumn(string File, string? Heading);

/// <summary>A measure by its title, and the fields behind it.</summary>
public sealed record MeasureNeed(string Title, ImmutableArray<string> Fields);

/// <summary>What is missing in the data, since when, and what needs it.</summary>
public static class DataQuestions
{
    private const string Constant = "(constant)";

    /// <summary>What is missing, worst first.</summary>
    /// <param name="fields">The fields asked about.</param>
    /// <param name="months">Their completeness by month, from the first month to the report month.</param>
    /// <param name="yearFrom">First of the last 12 months.</param>
    /// <param name="columns">Where the sources hold each field.</param>
    /// <param name="findings">Findings, for cells that hold text but no value.</param>
    /// <param name="needs">Headline measures' titles and the fields behind them.</param>
    public static ImmutableArray<DataQuestion> Rank(
        IEnumerable<Field> fields, IEnumerable<MonthCompleteness> months, Month yearFrom, ILookup<string, SourceColumn> columns,
        IEnumerable<Finding> findings, IReadOnlyList<MeasureNeed> needs)
    {
        var byField = months.ToLookup(row => row.Field);
        var invalid = findings.Where(finding => finding.Severity == Severity.Blank)
            .GroupBy(finding => (finding.File, finding.Column)).ToDictionary(group => group.Key, group => group.LongCount());
        return DataQuestion.WorstFirst(fields.Select(Ask));

        DataQuestion Ask(Field field)
        {
            var year = byField[field.Name].Where(row => row.Month >= yearFrom).ToArray();
            var held = columns[field.Name].Select(column => (column.File, Column: column.Heading ?? Constant)).ToArray();
            return new DataQuestion(
                field.Name, field.Title, year.Sum(row => row.Records - row.Known), year.Sum(row => row.Records),
                MissingSince.Of(byField[field.Name].Select(row => new MonthKnown(row.Month, row.Known, row.Records))),
                [.. held.Select(column => held.Length == 1 ? column.Column : $"{column.Column} ({column.File})").Distinct()],
                held.Sum(column => invalid.GetValueOrDefault((column.File, column.Column))),
                [.. needs.Where(need => need.Fields.Contains(field.Name)).Select(need => need.Title)]);
        }
    }
}
